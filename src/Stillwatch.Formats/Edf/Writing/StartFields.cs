using System.Globalization;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Edf.Writing;

/// <summary>The header's fields about the start (EDF+ specification, 2.1.3): to the second; the rest stands in the first time-keeping annotation.</summary>
/// <param name="Date">dd.mm.yy.</param>
/// <param name="Time">hh.mm.ss.</param>
/// <param name="RecordingField">Startdate and what else is said of the recording.</param>
/// <param name="SecondsAfter">From the start stated to the file's beginning, below one second.</param>
internal sealed record StartFields(string Date, string Time, string RecordingField, decimal SecondsAfter)
{
    // Where the date is not known, the earliest that the short field can hold.
    private const string NoDate = "01.01.85";
    private const int FirstYear = 1985, LastYear = 2084;
    private const string By = "X X " + EdfConventions.Program;

    /// <param name="recording">Its start and its source's averaging.</param>
    /// <param name="originMilliseconds">Where the file begins on the recording's time line.</param>
    /// <param name="issues">Where what the field cannot hold is listed.</param>
    public static StartFields Of(Recording recording, long originMilliseconds, IssueLog issues)
    {
        string averaging = recording.SourceAveraging.Window is { } window ? " " + EdfConventions.Averaging(window) : "";
        var later = TimeSpan.FromMilliseconds(originMilliseconds);
        return recording.Start switch
        {
            RecordingStart.Local local => Dated(local.DateTime, later, averaging, issues),
            RecordingStart.Zoned zoned => Dated(zoned.DateTime.DateTime, later, " " + EdfConventions.UtcOffset(zoned.DateTime.Offset) + averaging, issues),
            RecordingStart.TimeOfDay ofDay => Clock(ofDay.Time.Add(later), averaging),
            _ => new StartFields(NoDate, "00.00.00", $"Startdate X {By} {EdfConventions.StartUnknown}{averaging}", 0),
        };
    }

    private static StartFields Dated(DateTime origin, TimeSpan later, string more, IssueLog issues)
    {
        if (origin.Ticks + later.Ticks < 0)
            throw new UnwritableRecordingException($"rows {-later.TotalSeconds:0.###} s before {origin:yyyy-MM-dd HH:mm:ss}", "rows after the beginning of the year 1", "start", "JSON or Parquet, where rows may stand before the start");
        var start = origin + later;
        // Years that two digits cannot mean are written "yy", and stand in the recording field alone.
        bool isShort = start.Year is >= FirstYear and <= LastYear;
        if (!isShort)
        {
            issues.Note(WriteIssueCodes.Date, "", "header, startdate", $"the year {start.Year}", $"{FirstYear} to {LastYear}",
                "the year is \"yy\" there and stands in the recording field; not every reader looks for it");
        }

        var culture = CultureInfo.InvariantCulture;
        string date = isShort ? start.ToString("dd.MM.yy", culture) : start.ToString("dd.MM.", culture) + "yy";
        string month = start.ToString("MMM", culture).ToUpperInvariant();
        return new StartFields(date, start.ToString("HH.mm.ss", culture), string.Create(culture, $"Startdate {start:dd}-{month}-{start:yyyy} {By}{more}"), Part(start.TimeOfDay));
    }

    private static StartFields Clock(TimeOnly time, string more) =>
        new(NoDate, time.ToString("HH.mm.ss", CultureInfo.InvariantCulture), $"Startdate X {By}{more}", Part(time.ToTimeSpan()));

    private static decimal Part(TimeSpan time) => time.Ticks % TimeSpan.TicksPerSecond / (decimal)TimeSpan.TicksPerSecond;
}
