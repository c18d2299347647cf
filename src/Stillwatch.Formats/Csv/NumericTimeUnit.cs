namespace Stillwatch.Formats.Csv;

/// <summary>The unit of a column of plain numbers that tell the time.</summary>
public enum NumericTimeUnit
{
    Milliseconds,
    Seconds,
    Minutes,
    Hours,

    /// <summary>Since 1970-01-01 UTC.</summary>
    EpochMilliseconds,
    EpochSeconds,

    /// <summary>Days of a spreadsheet; day 1 is 1900-01-01.</summary>
    SerialDays,
}
