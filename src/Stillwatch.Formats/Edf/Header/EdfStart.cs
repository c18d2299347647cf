using System.Globalization;
using Stillwatch.Time;

namespace Stillwatch.Formats.Edf.Header;

/// <summary>When a recording began, by the clock of the machine that made it. EDF says nothing of a zone, so none is assumed; our own exports state one.</summary>
internal static class EdfStart
{
    private static readonly string[] Months = ["JAN", "FEB", "MAR", "APR", "MAY", "JUN", "JUL", "AUG", "SEP", "OCT", "NOV", "DEC"];

    /// <param name="header">Its startdate, starttime and, of EDF+, the start date in the recording identification.</param>
    /// <param name="firstSeconds">Where the first data record begins after that time, from its time-keeping annotation.</param>
    /// <param name="issues">Where oddities are listed.</param>
    public static RecordingStart Of(EdfHeader header, decimal firstSeconds, IssueLog issues)
    {
        if (header.Subfields.Contains(EdfConventions.StartUnknown)) return new RecordingStart.Unknown();
        var (date, isUnknown) = DateOf(header, issues);
        var time = TimeOf(header, issues);
        if (time is not { } clock)
        {
            return new RecordingStart.Unknown();
        }

        var first = TimeSpan.FromTicks((long)(firstSeconds * TimeSpan.TicksPerSecond));
        if (date is not { } day)
        {
            if (clock == TimeOnly.MinValue && isUnknown)
            {
                issues.Note(EdfIssueCodes.StartPlaceholder, "", HeaderFields.Place(EdfFields.StartTime), "00.00.00 beside an unknown date", "a time of day", "midnight, as it stands; it may stand for an unknown time");
            }

            return new RecordingStart.TimeOfDay(clock.Add(first));
        }

        var start = day.ToDateTime(clock);
        if (start == new DateTime(1985, 1, 1))
        {
            issues.Note(EdfIssueCodes.StartPlaceholder, "", HeaderFields.Place(EdfFields.StartDate), "01.01.85 00.00.00", "a date and time", "as it stands; files without identity often bear this date (common practice, no source)");
        }

        return EdfConventions.UtcOffsetOf(header.Subfields) is { } offset
            ? new RecordingStart.Zoned(new DateTimeOffset(start + first, offset))
            : new RecordingStart.Local(start + first);
    }

    // dd.mm.yy; 85–99 is 19yy, 00–84 is 20yy, "yy" leaves it to the recording identification (EDF+ specification, 2.1.3.2).
    private static (DateOnly? Date, bool IsUnknown) DateOf(EdfHeader header, IssueLog issues)
    {
        var inField = FieldDate(header.StartDate);
        string[] words = header.RecordingId.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        bool hasSubfield = header.IsPlus && words is ["Startdate", _, ..];
        if (hasSubfield && words[1] == "X")
        {
            issues.Note(EdfIssueCodes.StartDate, "", HeaderFields.Place(EdfFields.Recording), "Startdate X", "a date", "the date is unknown; the time of day stays");
            return (null, true);
        }

        var full = hasSubfield ? FullDate(words[1]) : null;
        if (hasSubfield && full is null)
            issues.Doubt(EdfIssueCodes.StartDate, "subfield", HeaderFields.Place(EdfFields.Recording), $"Startdate {IssueLog.Show(words[1])}", "dd-MMM-yyyy", "the startdate field instead");
        else if (full is not null && inField is not null && inField != full)
            issues.Doubt(EdfIssueCodes.StartDisagrees, "", HeaderFields.Place(EdfFields.StartDate), IssueLog.Show(header.StartDate), $"{full:yyyy-MM-dd}, as in the recording identification", "the latter, which has the full year");
        if ((full ?? inField) is { } date)
        {
            if (full is null && !IsPlain(header.StartDate)) NoteForm(EdfFields.StartDate, header.StartDate, "dd.mm.yy", $"{date:yyyy-MM-dd}", issues);
            return (date, false);
        }

        issues.Doubt(EdfIssueCodes.StartDate, "field", HeaderFields.Place(EdfFields.StartDate), IssueLog.Show(header.StartDate), "a date, dd.mm.yy", "the date is unknown");
        return (null, false);
    }

    private static TimeOnly? TimeOf(EdfHeader header, IssueLog issues)
    {
        if (Parts(header.StartTime) is ({ } hour and < 24, { } minute and < 60, { } second and < 60))
        {
            var time = new TimeOnly(hour, minute, second);
            if (!IsPlain(header.StartTime)) NoteForm(EdfFields.StartTime, header.StartTime, "hh.mm.ss", $"{time:HH:mm:ss}", issues);
            return time;
        }

        issues.Doubt(EdfIssueCodes.StartTime, "", HeaderFields.Place(EdfFields.StartTime), IssueLog.Show(header.StartTime), "a time of day, hh.mm.ss",
            "the start is unknown; times are counted from the first data record");
        return null;
    }

    private static void NoteForm(EdfField field, string found, string expected, string assumed, IssueLog issues) =>
        issues.Doubt(field == EdfFields.StartDate ? EdfIssueCodes.StartDate : EdfIssueCodes.StartTime, "form", HeaderFields.Place(field), IssueLog.Show(found), expected, assumed);

    private static DateOnly? FieldDate(string text)
    {
        if (Parts(text) is not ({ } day, { } month, { } year)) return null;
        return Day(year >= 85 ? 1900 + year : 2000 + year, month, day);
    }

    private static DateOnly? FullDate(string text)
    {
        if (text is not [var d1, var d2, '-', _, _, _, '-', _, _, _, _] || !char.IsAsciiDigit(d1) || !char.IsAsciiDigit(d2)) return null;
        int month = Array.IndexOf(Months, text[3..6].ToUpperInvariant()) + 1;
        return int.TryParse(text.AsSpan(7), NumberStyles.None, CultureInfo.InvariantCulture, out int year) ? Day(year, month, (d1 - '0') * 10 + d2 - '0') : null;
    }

    private static DateOnly? Day(int year, int month, int day) =>
        year is >= 1 and <= 9999 && month is >= 1 and <= 12 && day >= 1 && day <= DateTime.DaysInMonth(year, month) ? new DateOnly(year, month, day) : null;

    private static bool IsPlain(string text) => text.Length == 8 && text[2] == '.' && text[5] == '.';

    // Three numbers of two digits; another separator than the point is taken and listed.
    private static (int? First, int? Second, int? Third) Parts(string text)
    {
        const string separators = ".:-/";
        if (text.Length != 8 || !separators.Contains(text[2]) || text[2] != text[5]) return default;
        return (Two(0), Two(3), Two(6));

        int? Two(int at) => char.IsAsciiDigit(text[at]) && char.IsAsciiDigit(text[at + 1]) ? (text[at] - '0') * 10 + text[at + 1] - '0' : null;
    }
}
