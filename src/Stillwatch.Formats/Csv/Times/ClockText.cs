namespace Stillwatch.Formats.Csv.Times;

internal enum DateStyle
{
    None,

    /// <summary>2026-01-31, 2026/01/31, 20260131.</summary>
    YearFirst,

    /// <summary>31/01/2026 or 01/31/2026.</summary>
    Slashed,

    /// <summary>31.01.2026: day first by common practice.</summary>
    Dotted,

    /// <summary>31-Jan-2026.</summary>
    NamedMonth,
}

/// <summary>What a cell says of a moment: a date, a clock reading, or both, as written.</summary>
internal struct ClockReading
{
    public DateStyle DateStyle;
    public int DayNumber; // days since 0001-01-01
    public int FirstComponent; // of a slashed date, as written
    public int SecondComponent;
    public bool HasClock;
    public bool HasSeconds;
    public bool IsTwelveHour;
    public int Hours; // as written, before AM or PM: 25 is possible for elapsed time
    public int Minutes; // the first two parts, for readings without seconds
    public long MillisecondsOfDay;
    public bool IsRounded; // finer than a millisecond
    public bool HasZone;
    public int ZoneMinutes;
    public int SecondsAt; // where in the cell the two digits of the seconds stand; -1 without
    public int SecondsEnd; // behind the seconds and their fraction

    public readonly bool HasDate => DateStyle != DateStyle.None;

    /// <summary>Milliseconds since 0001-01-01 on the clock face, or in UTC where the zone is known.</summary>
    public readonly long AbsoluteMilliseconds =>
        DayNumber * ClockText.DayMilliseconds + MillisecondsOfDay - (HasZone ? ZoneMinutes * 60_000L : 0);
}

/// <summary>
/// Reads dates and clock times: ISO 8601, and the local forms that exports use. Nothing is completed: what the cell does not
/// say (a date, a zone, seconds) is marked as not said.
/// </summary>
/// <remarks>Years 1800–2999; two-digit years are of this century. Hours of a clock without a date may run on past 23 (elapsed time).</remarks>
internal ref struct ClockText
{
    public const long DayMilliseconds = 86_400_000;

    private static readonly string[] MonthNames = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

    private readonly ReadOnlySpan<char> text;
    private int at;

    private ClockText(ReadOnlySpan<char> text) => this.text = text;

    /// <param name="cell">The cell, blanks around it or not.</param>
    /// <param name="order">How a slashed date is read; <see cref="DateOrder.Ask"/>: whichever way it is a date.</param>
    /// <param name="reading">What it says.</param>
    public static bool TryRead(ReadOnlySpan<char> cell, DateOrder order, out ClockReading reading)
    {
        reading = new ClockReading { SecondsAt = -1 };
        var parser = new ClockText(cell.TrimEnd());
        parser.SkipBlanks();
        if (parser.at == parser.text.Length) return false;
        if (!parser.LooksLikeClock() && !parser.TryDate(order, ref reading)) return false;
        if (reading.HasDate)
        {
            if (parser.AtEnd) return true;
            if (parser.Peek is 'T' or 't') parser.at++;
            else if (parser.Peek != ' ') return false;
            parser.SkipBlanks();
        }

        // A zone without a date, or a date at hour 24, is nothing we could place.
        return parser.TryClock(ref reading) && parser.AtEnd && (reading.HasDate ? reading.Hours < 24 : !reading.HasZone);
    }

    private readonly bool AtEnd => at == text.Length;

    private readonly char Peek => at < text.Length ? text[at] : '\0';

    private void SkipBlanks()
    {
        while (at < text.Length && char.IsWhiteSpace(text[at])) at++;
    }

    // Digits and a colon: a clock. A date has another mark first.
    private readonly bool LooksLikeClock()
    {
        int end = at;
        while (end < text.Length && char.IsAsciiDigit(text[end])) end++;
        return end > at && end < text.Length && text[end] == ':';
    }

    private bool TryDigits(int least, int most, out int value)
    {
        value = 0;
        int start = at;
        while (at < text.Length && at - start < most && char.IsAsciiDigit(text[at])) value = value * 10 + (text[at++] - '0');
        return at - start >= least;
    }

    private bool TryDate(DateOrder order, ref ClockReading reading)
    {
        int start = at;
        if (!TryDigits(1, 8, out int first)) return false;
        int digits = at - start;
        if (digits == 8)
        {
            reading.DateStyle = DateStyle.YearFirst;
            return TryDay(first / 10000, first / 100 % 100, first % 100, out reading.DayNumber);
        }

        char mark = Peek;
        if (mark is not ('-' or '/' or '.')) return false;
        at++;
        if (digits is 1 or 2 && char.IsAsciiLetter(Peek)) return TryNamedMonth(first, mark, ref reading);
        if (!TryDigits(1, 2, out int second) || Peek != mark) return false;
        at++;
        start = at;
        if (!TryDigits(1, 4, out int third)) return false;
        int lastDigits = at - start;
        if (digits == 4)
        {
            reading.DateStyle = DateStyle.YearFirst;
            return lastDigits <= 2 && TryDay(first, second, third, out reading.DayNumber);
        }

        if (digits > 2 || lastDigits is not (2 or 4)) return false;
        if (order == DateOrder.YearFirst && lastDigits == 4) return false;
        int year = lastDigits == 2 ? 2000 + third : third;
        reading.DateStyle = mark == '.' ? DateStyle.Dotted : DateStyle.Slashed;
        reading.FirstComponent = first;
        reading.SecondComponent = second;
        if (order == DateOrder.YearFirst) return TryDay(2000 + first, second, third, out reading.DayNumber);
        bool dayFirst = order != DateOrder.MonthFirst;
        return dayFirst && TryDay(year, second, first, out reading.DayNumber)
            || (order == DateOrder.MonthFirst || (order == DateOrder.Ask && mark != '.')) && TryDay(year, first, second, out reading.DayNumber)
            || order == DateOrder.Ask && lastDigits == 2 && TryDay(2000 + first, second, third, out reading.DayNumber);
    }

    private bool TryNamedMonth(int day, char mark, ref ClockReading reading)
    {
        int start = at;
        while (char.IsAsciiLetter(Peek)) at++;
        var name = text[start..at];
        int month = 0;
        for (int i = 0; i < MonthNames.Length && name.Length >= 3; i++)
        {
            if (name[..3].Equals(MonthNames[i], StringComparison.OrdinalIgnoreCase)) month = i + 1;
        }

        if (month == 0 || name.Length > 9 || Peek != mark) return false;
        at++;
        start = at;
        if (!TryDigits(2, 4, out int year)) return false;
        reading.DateStyle = DateStyle.NamedMonth;
        return (at - start) is 2 or 4 && TryDay(at - start == 2 ? 2000 + year : year, month, day, out reading.DayNumber);
    }

    private static bool TryDay(int year, int month, int day, out int dayNumber)
    {
        bool exists = year is >= 1800 and <= 2999 && month is >= 1 and <= 12 && day >= 1 && day <= DateTime.DaysInMonth(year, month);
        dayNumber = exists ? new DateOnly(year, month, day).DayNumber : 0;
        return exists;
    }

    private bool TryClock(ref ClockReading reading)
    {
        int start = at;
        if (!TryDigits(1, 7, out int hours)) return false;
        int minutes, seconds = 0, milliseconds = 0;
        if (at - start == 6 && reading.HasDate && Peek != ':')
        {
            // The basic form of ISO 8601: 220005.
            (hours, minutes, seconds) = (hours / 10000, hours / 100 % 100, hours % 100);
            reading.HasSeconds = true;
            reading.SecondsAt = at - 2;
        }
        else
        {
            if (Peek != ':') return false;
            at++;
            if (!TryDigits(2, 2, out minutes)) return false;
            if (Peek == ':')
            {
                at++;
                reading.SecondsAt = at;
                if (!TryDigits(2, 2, out seconds)) return false;
                reading.HasSeconds = true;
            }
        }

        if (minutes > 59 || seconds > 59) return false;
        if (reading.HasSeconds)
        {
            if (Peek is '.' or ',' && !TryFraction(out milliseconds, ref reading)) return false;
            reading.SecondsEnd = at;
        }

        reading.HasClock = true;
        reading.Hours = hours;
        reading.Minutes = minutes;
        return TryHalfDay(ref reading, ref hours) && TryZone(ref reading)
            && SetMilliseconds(ref reading, hours, minutes, seconds, milliseconds);
    }

    private static bool SetMilliseconds(ref ClockReading reading, int hours, int minutes, int seconds, int milliseconds)
    {
        reading.MillisecondsOfDay = hours * 3_600_000L + minutes * 60_000L + seconds * 1000L + milliseconds;
        return true;
    }

    private bool TryFraction(out int milliseconds, ref ClockReading reading)
    {
        at++;
        int start = at;
        milliseconds = 0;
        while (char.IsAsciiDigit(Peek))
        {
            int place = at - start;
            int digit = text[at++] - '0';
            if (place < 3) milliseconds = milliseconds * 10 + digit;
            else if (place == 3 && digit >= 5) milliseconds++;
            if (place >= 3 && digit != 0) reading.IsRounded = true;
        }

        for (int place = at - start; place < 3; place++) milliseconds *= 10;
        return at > start;
    }

    private bool TryHalfDay(ref ClockReading reading, ref int hours)
    {
        int back = at;
        SkipBlanks();
        if (Peek is not ('a' or 'A' or 'p' or 'P'))
        {
            at = back;
            return true;
        }

        bool afternoon = Peek is 'p' or 'P';
        at++;
        if (Peek is not ('m' or 'M') || hours is < 1 or > 12) return false;
        at++;
        reading.IsTwelveHour = true;
        hours = hours % 12 + (afternoon ? 12 : 0);
        return true;
    }

    private bool TryZone(ref ClockReading reading)
    {
        int back = at;
        SkipBlanks();
        var rest = text[at..];
        if (rest is "Z" or "z" || rest.Equals("UTC", StringComparison.OrdinalIgnoreCase) || rest.Equals("GMT", StringComparison.OrdinalIgnoreCase))
        {
            at = text.Length;
            reading.HasZone = true;
            return true;
        }

        if (Peek is not ('+' or '-'))
        {
            at = back;
            return true;
        }

        int sign = Peek == '-' ? -1 : 1;
        at++;
        if (!TryDigits(2, 2, out int hours)) return false;
        int minutes = 0;
        if (Peek == ':') at++;
        if (!AtEnd && !TryDigits(2, 2, out minutes)) return false;
        reading.HasZone = true;
        reading.ZoneMinutes = sign * (hours * 60 + minutes);
        return hours <= 14 && minutes <= 59;
    }
}
