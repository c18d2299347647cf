using Stillwatch.Time;

namespace Stillwatch.Formats.Csv.Times;

/// <summary>What kind of time a file's time column tells.</summary>
internal enum TimeForm
{
    /// <summary>No time column: rows are counted, a declared period apart.</summary>
    RowCount,

    /// <summary>Date and clock, zone unknown.</summary>
    Local,

    /// <summary>Date and clock with an offset from UTC.</summary>
    Zoned,

    /// <summary>A clock without a date.</summary>
    TimeOfDay,

    /// <summary>Hours, minutes and seconds since some beginning.</summary>
    ElapsedClock,

    /// <summary>Minutes and seconds since some beginning.</summary>
    ElapsedMinutes,

    /// <summary>A number in a <see cref="NumericTimeUnit"/>.</summary>
    Number,
}

/// <summary>Where the time of a row stands and how to read it.</summary>
/// <param name="Form">What it tells.</param>
/// <param name="Column">0-based; −1 without a time column.</param>
/// <param name="DateColumn">0-based, where the date stands in a column of its own; else −1.</param>
/// <param name="Unit">Of <see cref="TimeForm.Number"/>.</param>
/// <param name="Order">Of slashed dates.</param>
/// <param name="Rate">Of <see cref="TimeForm.RowCount"/>: rows are counted at it.</param>
internal sealed record TimePlan(
    TimeForm Form,
    int Column,
    int DateColumn = -1,
    NumericTimeUnit Unit = NumericTimeUnit.Seconds,
    DateOrder Order = DateOrder.DayFirst,
    SampleRate? Rate = null);
