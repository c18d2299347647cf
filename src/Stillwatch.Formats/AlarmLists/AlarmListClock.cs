using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Csv.Layout;
using Stillwatch.Formats.Csv.Times;
using Stillwatch.Formats.Labels;
using Stillwatch.Time;

namespace Stillwatch.Formats.AlarmLists;

/// <summary>
/// The times of a list on the time line of a recording. What neither says is not made up: a list by the clock and a recording without
/// one are refused; what had to be taken as given is listed.
/// </summary>
internal sealed class AlarmListClock
{
    private const long Day = ClockText.DayMilliseconds;
    private const long Hour = 3_600_000;

    private readonly TimePlan plan;
    private readonly TimeReader reader;
    private readonly RecordingStart start;
    private readonly Duration length;
    private readonly IssueLog issues;
    private readonly string place;

    /// <exception cref="UnreadableFileException">The list goes by the clock, and the recording has none.</exception>
    public AlarmListClock(CsvLayout layout, AlarmListColumns columns, string name, CsvReadOptions options, RecordingStart start, Duration length, IssueLog issues)
    {
        this.start = start;
        this.length = length;
        this.issues = issues;
        place = $"line {layout.FirstRowLineNumber}, column {layout.LabelOf(columns.Start)}";
        if (options.DateOrder == DateOrder.Ask) options = options with { DateOrder = OrderWithinRecording(layout, columns, options) };
        var form = new TimeFormFinder(layout, options, issues).Plan(columns.Start, columns.Date);
        // A list may well begin at midnight; where the recording has a clock, so has the list, unless it says otherwise.
        if (form.Form == TimeForm.ElapsedClock && start.IsKnown && !LabelVocabulary.MeansElapsed(layout.NameOf(columns.Start)) && !HasHoursPastADay(layout, columns.Start)) form = form with { Form = TimeForm.TimeOfDay };
        plan = form;
        reader = new TimeReader(plan, layout.DecimalMark);
        bool elapsed = IsElapsed;
        if (!elapsed && !start.IsKnown)
        {
            throw new UnreadableFileException("times of a clock", "seconds since the recording's first row, for the recording has no clock", $"{name}, {place}",
                "the recording's start is not known, so the list cannot be joined to it; give the list elapsed seconds (a column named \"elapsed s\"), or the recording its clock times");
        }

        if (elapsed)
            issues.Note(AlarmListIssueCodes.ClockElapsed, "", place, "elapsed time", "a clock", "counted from the first row of the recording");
    }

    public bool IsTimeOfDay => plan.Form == TimeForm.TimeOfDay;

    // Where a list's own dates leave day and month open, a dated recording may tell: under one order some of its lines lie within, under the other none.
    private DateOrder OrderWithinRecording(CsvLayout layout, AlarmListColumns columns, CsvReadOptions options)
    {
        var asked = new IssueLog();
        var open = new TimeFormFinder(layout, options, asked).Plan(columns.Start, columns.Date);
        if (start is not (RecordingStart.Local or RecordingStart.Zoned) || asked.ToList().FirstOrDefault(i => i.Code == CsvIssueCodes.TimeDateOrder) is not { } doubt) return DateOrder.Ask;
        bool isDayFirst = AnyWithin(DateOrder.DayFirst), isMonthFirst = AnyWithin(DateOrder.MonthFirst);
        if (isDayFirst == isMonthFirst) return DateOrder.Ask;
        issues.Note(CsvIssueCodes.TimeDateOrder, "", doubt.Place, doubt.Found, doubt.Expected,
            $"{(isDayFirst ? "day" : "month")} first: only so does a line fall within the recording; --date-order says otherwise");
        return isDayFirst ? DateOrder.DayFirst : DateOrder.MonthFirst;

        bool AnyWithin(DateOrder order)
        {
            var dated = new TimeReader(open with { Order = order }, layout.DecimalMark);
            return layout.Sample.Any(r => columns.Start < r.Length
                && dated.TryRead(r[columns.Start], columns.Date >= 0 && columns.Date < r.Length ? r[columns.Date] : [], out long time)
                && SinceStart(dated.StartAt(time)) is { } at && at >= 0 && at < length.Milliseconds);
        }
    }

    // On the clock faces alone where one of the two has no zone.
    private long? SinceStart(RecordingStart at) => (at, start) switch
    {
        (RecordingStart.Zoned list, RecordingStart.Zoned recording) => (long)(list.DateTime - recording.DateTime).TotalMilliseconds,
        (RecordingStart.Local list, RecordingStart.Local recording) => (long)(list.DateTime - recording.DateTime).TotalMilliseconds,
        (RecordingStart.Zoned list, RecordingStart.Local recording) => (long)(list.DateTime.DateTime - recording.DateTime).TotalMilliseconds,
        (RecordingStart.Local list, RecordingStart.Zoned recording) => (long)(list.DateTime - recording.DateTime.DateTime).TotalMilliseconds,
        _ => null,
    };

    private bool IsElapsed => plan.Form is TimeForm.ElapsedClock or TimeForm.ElapsedMinutes
        || (plan.Form == TimeForm.Number && plan.Unit is not (NumericTimeUnit.EpochMilliseconds or NumericTimeUnit.EpochSeconds or NumericTimeUnit.SerialDays));

    /// <summary>A time as its cell has it, not yet on the recording's line: only differences count.</summary>
    public bool TryRead(ReadOnlySpan<char> cell, ReadOnlySpan<char> dateCell, out long milliseconds)
    {
        if (!IsTimeOfDay) return reader.TryRead(cell, dateCell, out milliseconds);
        milliseconds = 0;
        if (!ClockText.TryRead(cell, plan.Order, out var reading) || !reading.HasClock || reading.HasDate || reading.Hours > 23) return false;
        milliseconds = reading.MillisecondsOfDay;
        return true;
    }

    /// <summary>How long from a start to an end in a column of its own; null where the cell tells no time.</summary>
    public Duration? LengthTo(ReadOnlySpan<char> endCell, long startMilliseconds)
    {
        if (ClockText.TryRead(endCell, plan.Order, out var reading) && reading.HasClock && !reading.HasDate && plan.Form is not (TimeForm.ElapsedClock or TimeForm.ElapsedMinutes))
        {
            // An end without a date is the next time the clock shows it.
            long of = plan.Form == TimeForm.Zoned ? startMilliseconds + ZoneMilliseconds : startMilliseconds;
            return plan.Form == TimeForm.Number ? null : new Duration(((reading.MillisecondsOfDay - of) % Day + Day) % Day);
        }

        return TryRead(endCell, [], out long end) ? new Duration(end - startMilliseconds) : null;
    }

    /// <summary>Puts times, in the order of their rows, on the recording's line.</summary>
    /// <param name="read">As <see cref="TryRead"/> gave them.</param>
    /// <param name="isNewestFirst">Whether most rows are earlier than the one above.</param>
    /// <param name="outOfOrder">Rows that go against the rest.</param>
    public long[] Place(IReadOnlyList<long> read, out bool isNewestFirst, out int outOfOrder)
    {
        int back = read.Zip(read.Skip(1)).Count(p => IsBack(p.First, p.Second)), on = read.Zip(read.Skip(1)).Count(p => IsBack(p.Second, p.First));
        isNewestFirst = back > on;
        outOfOrder = Math.Min(back, on);
        if (read.Count == 0) return [];
        long[] times = [.. read];
        if (IsTimeOfDay) CountDays(times, isNewestFirst);
        long earliest = times.Min();
        long shift = Origin(earliest) - earliest;
        for (int i = 0; i < times.Length; i++) times[i] += shift;
        return times;
    }

    private long ZoneMilliseconds => reader.StartAt(0) is RecordingStart.Zoned zoned ? (long)zoned.DateTime.Offset.TotalMilliseconds : 0;

    private bool IsBack(long first, long second) => IsTimeOfDay
        ? (first - second) is > 0 and <= Day / 2 || second - first > Day / 2
        : second < first;

    // Without dates a step back means that midnight passed, unless it is so small that two rows stand in the wrong order.
    private static void CountDays(long[] times, bool isNewestFirst)
    {
        if (isNewestFirst) Array.Reverse(times);
        long day = 0, latest = times[0];
        for (int i = 1; i < times.Length; i++)
        {
            long ofDay = times[i];
            if (ofDay + day < latest - Hour) day += Day;
            times[i] = ofDay + day;
            latest = Math.Max(latest, times[i]);
        }

        if (isNewestFirst) Array.Reverse(times);
    }

    // Where the earliest entry lies on the recording's line.
    private long Origin(long milliseconds)
    {
        if (IsElapsed) return milliseconds;
        var at = IsTimeOfDay ? new RecordingStart.TimeOfDay(TimeOnly.FromTimeSpan(TimeSpan.FromMilliseconds(milliseconds % Day))) : reader.StartAt(milliseconds);
        if (SinceStart(at) is not { } since) return OnFirstDay((FaceOf(at) - FaceOf(start) + Day) % Day);
        if (at is RecordingStart.Zoned && start is RecordingStart.Local) NoteZone("a zone", "a recording whose zone is known too");
        if (at is RecordingStart.Local && start is RecordingStart.Zoned) NoteZone("no zone", "a zone, as the recording has one");
        return since;
    }

    private void NoteZone(string found, string expected) => issues.Doubt(AlarmListIssueCodes.ClockZone, "", place, found, expected, "the two clock faces are taken to be of one zone");

    // Without a date on one side: within the recording where that can be, else before it rather than half a day after.
    private long OnFirstDay(long afterStart)
    {
        bool isWithin = afterStart < length.Milliseconds;
        issues.Note(AlarmListIssueCodes.ClockNoDate, "", place, "no date in the list or in the recording", "dates in both",
            isWithin ? "the first entry is taken to lie in the recording's first 24 hours" : "the first entry is taken to lie within half a day of the recording's start");
        if (length.Milliseconds > Day)
            issues.Doubt(AlarmListIssueCodes.ClockNoDate, "long", place, $"no date, and a recording of {length.Hours:0.#} h", "dates in both", "the first entry may lie a day or more later");
        return isWithin || afterStart <= Day / 2 ? afterStart : afterStart - Day;
    }

    private static long FaceOf(RecordingStart start) => (long)(start switch
    {
        RecordingStart.TimeOfDay t => t.Time.ToTimeSpan(),
        RecordingStart.Local l => l.DateTime.TimeOfDay,
        RecordingStart.Zoned z => z.DateTime.TimeOfDay,
        _ => TimeSpan.Zero,
    }).TotalMilliseconds;

    private static bool HasHoursPastADay(CsvLayout layout, int column) =>
        layout.Sample.Any(r => column < r.Length && ClockText.TryRead(r[column], DateOrder.Ask, out var t) && t.Hours > 23);
}
