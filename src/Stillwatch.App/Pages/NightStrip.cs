using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.App.Pages;

/// <summary>A recording as lines of text, one hour to a line and one minute to a sign (a day and twenty minutes for long ones): the lower the SpO2, the taller the sign.</summary>
internal static class NightStrip
{
    public const string Legend = "Lowest in each cell:  · 94 or more  ▁ 90–93  ▃ 88–89  ▅ 85–87  ▇ 80–84  █ below 80  ░ no value";

    private const int LongestByHours = 36;
    private const int MostRows = 40;

    /// <summary>One line of the strip.</summary>
    /// <param name="Start">Where it begins.</param>
    /// <param name="Signs">One sign for each cell.</param>
    public sealed record StripRow(SampleTime Start, string Signs);

    /// <summary>Minutes to a cell.</summary>
    public static int CellMinutes(ConditionedSeries series) => series.Connected.Hours <= LongestByHours ? 1 : 20;

    public static IReadOnlyList<StripRow> Rows(ConditionedSeries series, out int rowsLeftOut)
    {
        long cell = CellMinutes(series) * 60_000L;
        int cellsInRow = cell == 60_000 ? 60 : 72;
        long connected = series.Connected.Milliseconds;
        int cells = (int)Math.Min((connected + cell - 1) / cell, (long)MostRows * cellsInRow);
        var lowest = Lowest(series, cells, cell);
        var rows = new List<StripRow>();
        for (int first = 0; first < cells; first += cellsInRow)
        {
            int count = Math.Min(cellsInRow, cells - first);
            string signs = string.Concat(Enumerable.Range(first, count).Select(i => Sign(lowest[i])));
            rows.Add(new StripRow(series.Start + new Duration(first * cell), signs));
        }

        long allRows = ((connected + cell - 1) / cell + cellsInRow - 1) / cellsInRow;
        rowsLeftOut = (int)(allRows - rows.Count);
        return rows;
    }

    private static int[] Lowest(ConditionedSeries series, int cells, long cell)
    {
        var lowest = new int[cells];
        Array.Fill(lowest, int.MaxValue);
        foreach (var piece in series.Pieces)
        {
            long from = (piece.Start - series.Start).Milliseconds / cell;
            long to = ((piece.End - series.Start).Milliseconds - 1) / cell;
            for (long i = from; i <= to && i < cells; i++) lowest[i] = Math.Min(lowest[i], piece.Micro);
        }

        return lowest;
    }

    private static char Sign(int micro) => micro switch
    {
        int.MaxValue => '░',
        >= 94 * FixedPoint.One => '·',
        >= 90 * FixedPoint.One => '▁',
        >= 88 * FixedPoint.One => '▃',
        >= 85 * FixedPoint.One => '▅',
        >= 80 * FixedPoint.One => '▇',
        _ => '█',
    };
}
