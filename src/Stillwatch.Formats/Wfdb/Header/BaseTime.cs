using System.Globalization;
using Stillwatch.Time;

namespace Stillwatch.Formats.Wfdb.Header;

/// <summary>The base time and date of a record line: when its first sample was taken, where the header says so.</summary>
internal static class BaseTime
{
    // A century of recording after it must still be a date.
    private const int LastYear = 9800;

    /// <param name="time">h:m:s, m:s or s, the seconds with a fraction or without; empty: not given.</param>
    /// <param name="date">d/m/y; empty or 0/0/0: not given.</param>
    /// <param name="name">The header file.</param>
    /// <param name="issues">Where an unreadable one is listed.</param>
    /// <returns>Never a midnight that was not stated: header(5) assumes 0:0:0 for an absent time, we do not.</returns>
    public static RecordingStart Parse(string time, string date, string name, IssueLog issues)
    {
        if (time.Length == 0) return new RecordingStart.Unknown();
        if (TimeOf(time) is not { } ofDay)
        {
            issues.Doubt(WfdbIssueCodes.HeaderStart, "time", $"{name}, record line", $"base time {IssueLog.Show(time)}", "h:m:s within a day", "the start is not known");
            return new RecordingStart.Unknown();
        }

        bool isBlank = date.Length > 0 && date.All(c => c is '0' or '/');
        if (isBlank && ofDay == TimeOnly.MinValue)
        {
            issues.Note(WfdbIssueCodes.HeaderStart, "blank", $"{name}, record line", $"{IssueLog.Show(time)} {IssueLog.Show(date)}", "a time and a date", "the start is not known: header(5) shows these zeros as what stands where neither was recorded");
            return new RecordingStart.Unknown();
        }

        if (date.Length == 0 || isBlank) return new RecordingStart.TimeOfDay(ofDay);
        if (DateOf(date) is { } day) return new RecordingStart.Local(day.ToDateTime(ofDay));
        issues.Doubt(WfdbIssueCodes.HeaderStart, "date", $"{name}, record line", $"base date {IssueLog.Show(date)}", $"d/m/y, up to the year {LastYear}", "the date is not known");
        return new RecordingStart.TimeOfDay(ofDay);
    }

    private static TimeOnly? TimeOf(string text)
    {
        string[] parts = text.Split(':');
        if (parts.Length > 3) return null;
        decimal seconds = 0;
        for (int i = 0; i < parts.Length; i++)
        {
            bool isLast = i == parts.Length - 1;
            if (!decimal.TryParse(parts[i], isLast ? NumberStyles.AllowDecimalPoint : NumberStyles.None, CultureInfo.InvariantCulture, out decimal part)) return null;
            if (part >= (i == 0 ? 86_400 : 60)) return null;
            seconds = seconds * 60 + part;
        }

        return seconds < 86_400 ? new TimeOnly((long)decimal.Round(seconds * 1000m, MidpointRounding.ToZero) * TimeSpan.TicksPerMillisecond) : null;
    }

    private static DateOnly? DateOf(string text)
    {
        string[] parts = text.Split('/');
        if (parts.Length != 3) return null;
        Span<int> numbers = stackalloc int[3];
        for (int i = 0; i < 3; i++)
        {
            if (!int.TryParse(parts[i], NumberStyles.None, CultureInfo.InvariantCulture, out numbers[i])) return null;
        }

        bool isDate = numbers[2] is >= 1 and <= LastYear && numbers[1] is >= 1 and <= 12 && numbers[0] >= 1 && numbers[0] <= DateTime.DaysInMonth(numbers[2], numbers[1]);
        return isDate ? new DateOnly(numbers[2], numbers[1], numbers[0]) : null;
    }
}
