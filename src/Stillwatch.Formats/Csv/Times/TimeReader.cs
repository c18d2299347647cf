using Stillwatch.Formats.Csv.Text;
using Stillwatch.Time;

namespace Stillwatch.Formats.Csv.Times;

/// <summary>
/// Reads the time of row after row into milliseconds on one line; which point is zero depends on the form, only differences
/// count, and <see cref="StartAt"/> says what the clock read. Keeps state: the last date and minute (most rows share them with the row
/// before), and the day a bare clock has come to.
/// </summary>
internal sealed class TimeReader(TimePlan plan, char decimalMark)
{
    private const long HalfDay = ClockText.DayMilliseconds / 2;

    // A century of elapsed time: beyond it a number is no time.
    private const decimal LargestElapsedMilliseconds = 36_525m * ClockText.DayMilliseconds;

    // The last cell read in full, up to its seconds: a row that begins alike differs in its seconds only.
    private char[] prefix = new char[64];
    private int prefixLength = -1;
    private long prefixMilliseconds;
    private char[] suffix = new char[64];
    private int suffixLength;

    private char[] dateText = new char[64];
    private int dateLength = -1;
    private long dateMilliseconds;

    private long dayMilliseconds; // of a bare clock: whole days passed since the first row
    private long lastOfDay = -1;
    private int firstZoneMinutes;
    private bool hasFirst;

    /// <summary>Whether the last time read was finer than a millisecond.</summary>
    public bool WasRounded { get; private set; }

    /// <summary>Whether a bare clock went past midnight at the last time read.</summary>
    public bool PassedMidnight { get; private set; }

    /// <summary>Reads a row's time. False where it tells none; the state then is as before.</summary>
    /// <param name="cell">The cell of the time column.</param>
    /// <param name="dateCell">The cell of the date column where there is one.</param>
    /// <param name="milliseconds">The time.</param>
    public bool TryRead(ReadOnlySpan<char> cell, ReadOnlySpan<char> dateCell, out long milliseconds)
    {
        WasRounded = false;
        PassedMidnight = false;
        if (plan.Form == TimeForm.Number) return TryReadNumber(cell, out milliseconds);
        if (!TryReadLikeLast(cell, out milliseconds) && !TryReadClock(cell, out milliseconds)) return false;
        if (plan.DateColumn >= 0)
        {
            if (!TryReadDate(dateCell, out long date)) return false;
            milliseconds += date;
        }

        if (plan.Form == TimeForm.TimeOfDay) milliseconds = OnItsDay(milliseconds);
        hasFirst = true;
        return true;
    }

    /// <summary>What is known of the clock at a time that was read.</summary>
    public RecordingStart StartAt(long milliseconds) => (plan.Form, plan.Unit) switch
    {
        (TimeForm.Local, _) => new RecordingStart.Local(new DateTime(milliseconds * TimeSpan.TicksPerMillisecond)),
        (TimeForm.Zoned, _) => new RecordingStart.Zoned(
            new DateTimeOffset(milliseconds * TimeSpan.TicksPerMillisecond, TimeSpan.Zero).ToOffset(TimeSpan.FromMinutes(firstZoneMinutes))),
        (TimeForm.TimeOfDay, _) => new RecordingStart.TimeOfDay(
            new TimeOnly(((milliseconds % ClockText.DayMilliseconds) + ClockText.DayMilliseconds) % ClockText.DayMilliseconds * TimeSpan.TicksPerMillisecond)),
        (TimeForm.Number, NumericTimeUnit.EpochSeconds or NumericTimeUnit.EpochMilliseconds) =>
            new RecordingStart.Zoned(DateTimeOffset.FromUnixTimeMilliseconds(milliseconds)),
        (TimeForm.Number, NumericTimeUnit.SerialDays) => new RecordingStart.Local(new DateTime(1899, 12, 30).AddMilliseconds(milliseconds)),
        _ => new RecordingStart.Unknown(),
    };

    // The road of nearly every row: the text up to the seconds is that of the row before.
    private bool TryReadLikeLast(ReadOnlySpan<char> cell, out long milliseconds)
    {
        milliseconds = 0;
        int at = prefixLength;
        if (at < 0 || cell.Length < at + 2 || !cell[..at].SequenceEqual(prefix.AsSpan(0, at))) return false;
        if (cell[at] is < '0' or > '5' || !char.IsAsciiDigit(cell[at + 1])) return false;
        int seconds = (cell[at] - '0') * 10 + (cell[at + 1] - '0');
        int fraction = 0;
        int end = at + 2;
        if (end < cell.Length && cell[end] is '.' or ',')
        {
            int scale = 100;
            int first = ++end;
            while (end < cell.Length && char.IsAsciiDigit(cell[end]))
            {
                if (scale == 0) return false; // finer than a millisecond: read in full
                fraction += (cell[end++] - '0') * scale;
                scale /= 10;
            }

            if (end == first) return false;
        }

        if (!cell[end..].SequenceEqual(suffix.AsSpan(0, suffixLength))) return false;
        milliseconds = prefixMilliseconds + seconds * 1000 + fraction;
        return true;
    }

    private bool TryReadClock(ReadOnlySpan<char> cell, out long milliseconds)
    {
        milliseconds = 0;
        if (!ClockText.TryRead(cell, plan.Order, out var reading) || !reading.HasClock) return false;
        switch (plan.Form)
        {
            case TimeForm.Local when plan.DateColumn >= 0:
                if (reading.HasDate || reading.HasZone || reading.Hours > 23) return false;
                milliseconds = reading.MillisecondsOfDay;
                break;
            case TimeForm.Local or TimeForm.Zoned:
                if (!reading.HasDate || reading.HasZone != (plan.Form == TimeForm.Zoned)) return false;
                if (!hasFirst) firstZoneMinutes = reading.ZoneMinutes;
                milliseconds = reading.AbsoluteMilliseconds;
                break;
            case TimeForm.TimeOfDay:
                if (reading.HasDate || reading.Hours > 23) return false;
                milliseconds = reading.MillisecondsOfDay;
                break;
            case TimeForm.ElapsedMinutes:
                if (reading.HasDate || reading.HasSeconds || reading.IsTwelveHour) return false;
                milliseconds = reading.MillisecondsOfDay / 60; // what stands there as hours and minutes is minutes and seconds
                break;
            default:
                if (reading.HasDate || reading.IsTwelveHour) return false;
                milliseconds = reading.MillisecondsOfDay;
                break;
        }

        if (milliseconds > LargestElapsedMilliseconds && !reading.HasDate) return false;
        WasRounded = reading.IsRounded;
        if (reading.HasSeconds && !reading.IsRounded) Remember(cell, reading, milliseconds);
        return true;
    }

    private void Remember(ReadOnlySpan<char> cell, in ClockReading reading, long milliseconds)
    {
        // SecondsAt counts in the cell itself: its leading blanks are part of the prefix.
        prefixLength = reading.SecondsAt;
        if (prefixLength > prefix.Length || cell.Length - reading.SecondsEnd > suffix.Length)
        {
            prefixLength = -1;
            return;
        }

        cell[..prefixLength].CopyTo(prefix);
        suffixLength = cell.Length - reading.SecondsEnd;
        cell[reading.SecondsEnd..].CopyTo(suffix);
        prefixMilliseconds = milliseconds - milliseconds % 60_000;
    }

    private bool TryReadDate(ReadOnlySpan<char> cell, out long milliseconds)
    {
        milliseconds = dateMilliseconds;
        if (dateLength >= 0 && cell.SequenceEqual(dateText.AsSpan(0, dateLength))) return true;
        if (!ClockText.TryRead(cell, plan.Order, out var reading) || !reading.HasDate || (reading.HasClock && reading.MillisecondsOfDay != 0) || reading.HasZone) return false;
        milliseconds = dateMilliseconds = reading.DayNumber * ClockText.DayMilliseconds;
        dateLength = cell.Length <= dateText.Length ? cell.Length : -1;
        if (dateLength >= 0) cell.CopyTo(dateText);
        return true;
    }

    // A bare clock: a step back of more than half a day is midnight passed; a smaller one is a row out of order. A step of
    // more than half a day forward, just after midnight was passed, is a late row of the day before.
    private long OnItsDay(long ofDay)
    {
        if (lastOfDay >= 0 && lastOfDay - ofDay > HalfDay)
        {
            dayMilliseconds += ClockText.DayMilliseconds;
            PassedMidnight = true;
        }
        else if (dayMilliseconds > 0 && lastOfDay < HalfDay / 12 && ofDay - lastOfDay > HalfDay)
        {
            return dayMilliseconds - ClockText.DayMilliseconds + ofDay;
        }

        lastOfDay = ofDay;
        return dayMilliseconds + ofDay;
    }

    private bool TryReadNumber(ReadOnlySpan<char> cell, out long milliseconds)
    {
        if (plan.Unit is NumericTimeUnit.Seconds or NumericTimeUnit.EpochSeconds && TryReadPlainSeconds(cell, out milliseconds)) return true;
        milliseconds = 0;
        if (DecimalText.ReadDecimal(cell, decimalMark, out decimal value) != NumberReading.Number) return false;
        decimal factor = plan.Unit switch
        {
            NumericTimeUnit.Milliseconds or NumericTimeUnit.EpochMilliseconds => 1,
            NumericTimeUnit.Seconds or NumericTimeUnit.EpochSeconds => 1000,
            NumericTimeUnit.Minutes => 60_000,
            NumericTimeUnit.Hours => 3_600_000,
            _ => ClockText.DayMilliseconds,
        };
        bool isDate = plan.Unit is NumericTimeUnit.EpochMilliseconds or NumericTimeUnit.EpochSeconds or NumericTimeUnit.SerialDays;
        decimal limit = LargestElapsedMilliseconds * (isDate ? 10 : 1);
        if (Math.Abs(value) > limit / factor || (isDate && value < 0)) return false;
        decimal exact = value * factor;
        milliseconds = (long)Math.Round(exact, MidpointRounding.AwayFromZero);
        WasRounded = milliseconds != exact;
        return true;
    }

    // Up to ten digits of seconds and three decimals: what elapsed and epoch seconds look like.
    private bool TryReadPlainSeconds(ReadOnlySpan<char> cell, out long milliseconds)
    {
        milliseconds = 0;
        int at = 0;
        long whole = 0;
        while (at < cell.Length && at < 10 && char.IsAsciiDigit(cell[at])) whole = whole * 10 + (cell[at++] - '0');
        if (at == 0) return false;
        int fraction = 0;
        if (at < cell.Length)
        {
            if (cell[at++] != decimalMark || cell.Length - at is 0 or > 3) return false;
            for (int scale = 100; at < cell.Length; scale /= 10, at++)
            {
                if (!char.IsAsciiDigit(cell[at])) return false;
                fraction += (cell[at] - '0') * scale;
            }
        }

        if (whole > 3_155_760_000) return false; // a century: decided by the general road
        milliseconds = whole * 1000 + fraction;
        return true;
    }
}
