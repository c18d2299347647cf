using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Tuning.Map;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Pages;

/// <summary>A settings map small enough for a terminal: the usual limits and delays, with the present and the proposed cell marked.</summary>
internal static class SettingsMapTable
{
    private const int MostRows = 18;
    private const int MostColumns = 11;
    private const int CellWidth = 8;

    private static readonly int[] UsualDelaySeconds = [0, 5, 10, 15, 20, 30, 45, 60, 90, 120, 180];

    public static void Write(Page page, SettingsMap map, LimitSettings<Percent>? present, LimitSettings<Percent>? proposed)
    {
        var grid = map.Request.Grid;
        var presentCell = CellOf(grid, present);
        var proposedCell = CellOf(grid, proposed);
        var rows = Chosen(grid.LimitsMicro, l => l is >= 80 * FixedPoint.One and <= 96 * FixedPoint.One && l % FixedPoint.One == 0, MostRows, [presentCell?.Limit, proposedCell?.Limit]);
        var columns = Chosen(grid.Delays, d => Array.Exists(UsualDelaySeconds, u => d.Milliseconds == u * 1000L), MostColumns, [presentCell?.Delay, proposedCell?.Delay]);
        page.Heading("Settings map: signals over all that was monitored, by limit (down) and delay (across)");
        page.Line("[bold]  below   " + string.Concat(columns.Select(c => $"{grid.Delays[c].Seconds:0.###} s".PadLeft(CellWidth - 1).PadRight(CellWidth))) + "[/]");
        foreach (int row in rows.OrderDescending())
        {
            string line = $"{Percent.FromMicro(grid.LimitsMicro[row]).Value,5:0.##} %   ";
            foreach (int column in columns) line += Cell(map.ByDelay, row, column, presentCell == (row, column), proposedCell == (row, column));
            page.Line(line);
        }

        page.Note(Legend(presentCell, proposedCell, present, proposed));
    }

    private static string Cell(MapPlane plane, int limit, int delay, bool isPresent, bool isProposed)
    {
        string mark = plane.IsNull(limit, delay) ? string.Empty : plane.Missed[limit, delay] > 0 ? "M" : plane.Late[limit, delay] > 0 ? "L" : string.Empty;
        string count = plane.IsNull(limit, delay) ? Say.Nothing : $"{plane.Signals[limit, delay]}";
        string open = isProposed ? ">" : isPresent ? "(" : string.Empty;
        string close = isProposed ? "<" : isPresent ? ")" : string.Empty;
        // Counts stand in line whatever is written around them.
        string text = (open + count).PadLeft(CellWidth - 2) + (mark + close).PadRight(2);
        return isPresent || isProposed ? $"[bold invert]{text}[/]" : text;
    }

    private static string Legend((int, int)? presentCell, (int, int)? proposedCell, LimitSettings<Percent>? present, LimitSettings<Percent>? proposed)
    {
        string legend = "M: a must-catch event is missed; L: one is signalled late; – : cannot be (R7, R8).";
        legend += presentCell is not null ? " ( ): the present settings." : present is not null ? " The present settings have no cell here." : string.Empty;
        legend += proposedCell is not null ? " > <: the proposal." : proposed is not null ? " The proposal has no cell here." : string.Empty;
        return legend + " Drawn with the backstop off, area threshold zero; every limit, delay and area: --json, --report.";
    }

    /// <summary>The cell of settings that the map can show: those without an area threshold, on its grid.</summary>
    private static (int Limit, int Delay)? CellOf(MapGrid grid, LimitSettings<Percent>? settings)
    {
        if (settings is null || settings.AreaThreshold > Area.Zero) return null;
        int limit = IndexOf(grid.LimitsMicro, l => l == settings.Limit.Micro);
        int delay = IndexOf(grid.Delays, d => d == settings.Delay);
        return limit >= 0 && delay >= 0 ? (limit, delay) : null;
    }

    /// <summary>The usual values of an axis, or evenly spread ones where those are few, and always the marked ones.</summary>
    private static List<int> Chosen<T>(IReadOnlyList<T> axis, Predicate<T> isUsual, int most, IEnumerable<int?> marked)
    {
        var must = marked.OfType<int>().ToHashSet();
        var usual = Enumerable.Range(0, axis.Count).Where(i => isUsual(axis[i])).ToList();
        if (usual.Count < Math.Min(4, axis.Count))
        {
            int step = Math.Max(1, (axis.Count + most - 1) / most);
            usual = [.. Enumerable.Range(0, axis.Count).Where(i => i % step == 0)];
        }

        foreach (int drop in usual.Where(i => !must.Contains(i)).Reverse().Take(Math.Max(0, usual.Union(must).Count() - most)).ToList()) usual.Remove(drop);
        return [.. usual.Union(must).Order()];
    }

    private static int IndexOf<T>(IReadOnlyList<T> list, Predicate<T> isIt)
    {
        for (int i = 0; i < list.Count; i++)
            if (isIt(list[i])) return i;
        return -1;
    }
}
