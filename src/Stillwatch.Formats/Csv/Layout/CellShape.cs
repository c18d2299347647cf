using Stillwatch.Formats.Csv.Text;
using Stillwatch.Formats.Csv.Times;

namespace Stillwatch.Formats.Csv.Layout;

/// <summary>What a cell looks like before anything is known of its column.</summary>
internal enum CellShape
{
    Blank,
    Number,

    /// <summary>A clock reading without a date.</summary>
    Clock,
    Date,
    DateAndClock,
    Text,
}

internal static class CellShapes
{
    public static CellShape Of(ReadOnlySpan<char> cell)
    {
        if (cell.IsWhiteSpace()) return CellShape.Blank;
        if (DecimalText.LooksLikeNumber(cell)) return CellShape.Number;
        if (!ClockText.TryRead(cell, DateOrder.Ask, out var reading)) return CellShape.Text;
        if (!reading.HasDate) return CellShape.Clock;
        return reading.HasClock ? CellShape.DateAndClock : CellShape.Date;
    }

    public static bool IsValue(this CellShape shape) => shape is not (CellShape.Blank or CellShape.Text);
}
