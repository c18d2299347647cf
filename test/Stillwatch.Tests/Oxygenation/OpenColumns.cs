using System.Globalization;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tests.Oxygenation;

/// <summary>Columns of the open recordings beside the checkout; a few lines, so that these tests do not lean on the reader under test elsewhere.</summary>
internal static class OpenColumns
{
    /// <summary>Rows of one column; missing where the cell is no number. Times of day or seconds come from the first column.</summary>
    public static ConditionedSource Column(string file, string column, ConditionedQuantity quantity = ConditionedQuantity.SpO2, int rowLimit = int.MaxValue)
    {
        var times = new TimeAxis.Builder();
        var values = new ValueColumn.Builder();
        string[] lines = File.ReadAllLines(OpenRecordings.Path(file));
        int index = Array.IndexOf(lines[0].TrimStart('\uFEFF').Split(','), column);
        Assert.True(index > 0, $"{file}: no column '{column}'");
        long? origin = null;
        foreach (string line in lines.Skip(1).Take(rowLimit))
        {
            string[] cells = line.Split(',');
            if (Milliseconds(cells[0].Trim()) is not { } milliseconds) continue;
            origin ??= milliseconds;
            if (times.Count > 0 && milliseconds - origin <= times.LastMilliseconds) continue; // a repeated second
            times.Add(milliseconds - origin.Value);
            values.Add(decimal.TryParse(cells[index], CultureInfo.InvariantCulture, out var value) ? FixedPoint.ToMicro(value) : ValueColumn.Missing);
        }

        bool spo2 = quantity == ConditionedQuantity.SpO2;
        return new ConditionedSource(new Channel(column, spo2 ? ChannelKind.SpO2 : ChannelKind.PulseRate, spo2 ? "%" : "/min", times.Build(), values.Build()), quantity);
    }

    private static long? Milliseconds(string cell) =>
        TimeSpan.TryParseExact(cell, @"hh\:mm\:ss", CultureInfo.InvariantCulture, out var ofDay) ? (long)ofDay.TotalMilliseconds
        : decimal.TryParse(cell, CultureInfo.InvariantCulture, out decimal seconds) ? (long)(seconds * 1000)
        : null;
}
