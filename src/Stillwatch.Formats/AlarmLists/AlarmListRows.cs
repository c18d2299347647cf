using Stillwatch.Alarms;
using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Csv.Layout;
using Stillwatch.Formats.Csv.Rows;
using Stillwatch.Formats.Csv.Text;
using Stillwatch.Quantities;
using Stillwatch.Replay.Fidelity;
using Stillwatch.Time;

namespace Stillwatch.Formats.AlarmLists;

/// <summary>Gathers the rows of a list and makes entries of them once all are known.</summary>
internal sealed class AlarmListRows(CsvLayout layout, AlarmListColumns columns, AlarmListClock clock, IssueLog issues)
{
    private const int TextLengthHeld = 200;
    private const long LongestMilliseconds = 10L * 86_400_000;

    private readonly List<Row> rows = [];
    private readonly List<long> times = [];
    private readonly AlarmCells cells = new(layout, columns, issues);

    private readonly record struct Row(int Line, string Text, AlarmMeaning Meaning, Duration? Length, AlarmPriority? Priority, int? LimitMicro);

    public void Add(RowCells row, int line)
    {
        if (row.AreBlank(0))
        {
            if (!issues.TryCount(CsvIssueCodes.RowBlank, "")) issues.Note(CsvIssueCodes.RowBlank, "", $"line {line}", "a blank line", "a row for each alarm", "the line is not used");
            return;
        }

        if (row.Count > layout.ColumnCount && !row.AreBlank(layout.ColumnCount))
        {
            Skip(CsvIssueCodes.RowTooManyCells, line, row.Line, $"{layout.ColumnCount} cells");
            return;
        }

        if (!clock.TryRead(row[columns.Start], columns.Date < 0 ? [] : row[columns.Date], out long time))
        {
            Skip(CsvIssueCodes.TimeUnreadable, line, row.Line, "a time like those of the first rows");
            return;
        }

        string text = TextOf(row);
        if (text.Length == 0)
        {
            Skip(AlarmListIssueCodes.RowNoText, line, row.Line, "what the alarm was");
            return;
        }

        var meaning = AlarmText.Read(text);
        if (cells.SaysOver(row)) meaning = meaning with { IsEnd = true };
        if (meaning.Condition is null && !issues.TryCount(AlarmListIssueCodes.TextNotUnderstood, text.ToUpperInvariant()))
            issues.Doubt(AlarmListIssueCodes.TextNotUnderstood, text.ToUpperInvariant(), $"line {line}", IssueLog.Show(text), "an alarm of SpO2, pulse rate or sensor", "counted and listed; compared with nothing");
        rows.Add(new Row(line, text, meaning, LengthOf(row, line, time), cells.Priority(row, line), cells.Limit(row, line) ?? meaning.LimitMicro));
        times.Add(time);
    }

    public void Skip(string code, int line, ReadOnlySpan<char> found, string expected)
    {
        if (!issues.TryCount(code, "")) issues.Doubt(code, "", $"line {line}", IssueLog.Show(found), expected, "the line is not used");
    }

    public List<LoggedSignal> Entries()
    {
        if (rows.Count == 0) issues.Doubt(AlarmListIssueCodes.NoEntries, "", $"line {layout.FirstRowLineNumber}", "no row that could be used", "a row for each alarm", "an empty list");
        long[] placed = clock.Place(times, out bool isNewestFirst, out int outOfOrder);
        if (outOfOrder > 0)
            issues.Doubt(CsvIssueCodes.TimeOutOfOrder, "", $"line {layout.FirstRowLineNumber}", "rows out of order", "times that rise, or fall, all along", clock.IsTimeOfDay ? "put in order; without dates a step back of more than an hour is taken for midnight" : "put in order of time", outOfOrder);
        if (isNewestFirst)
            issues.Note(AlarmListIssueCodes.NewestFirst, "", $"line {layout.FirstRowLineNumber}", "times that fall from row to row", "times that rise", "the newest alarm stands first; put in order of time");
        var entries = new List<LoggedSignal>(rows.Count);
        // A clock that tells minutes alone may well have two alarms at one time.
        bool tellsSeconds = placed.Any(t => (t - placed[0]) % 60_000 != 0);
        var seen = new HashSet<(SampleTime Start, string Text, Duration? Length)>();
        var open = new int[Enum.GetValues<AlarmCondition>().Length];
        Array.Fill(open, -1);
        // Rows of one instant keep the order in which they happened.
        foreach (int i in Enumerable.Range(0, rows.Count).OrderBy(i => placed[i]).ThenBy(i => isNewestFirst ? -i : i))
        {
            var row = rows[i];
            var start = new SampleTime(placed[i]);
            if (row.Meaning is { IsEnd: true, Condition: { } over })
            {
                End(entries, ref open[(int)over], start, row);
                continue;
            }

            if (tellsSeconds && !seen.Add((start, row.Text, row.Length)))
            {
                if (!issues.TryCount(AlarmListIssueCodes.RowRepeated, ""))
                    issues.Doubt(AlarmListIssueCodes.RowRepeated, "", $"line {row.Line}", $"the same start, text and length as another line: {IssueLog.Show(row.Text)}", "a row for each alarm", "counted once");
                continue;
            }

            if (row.Meaning.Condition is { } begun) open[(int)begun] = row.Length is null ? entries.Count : -1;
            entries.Add(new LoggedSignal(start, row.Text, row.Meaning.Condition, row.Length, row.Priority, row.LimitMicro));
        }

        return entries;
    }

    private void End(List<LoggedSignal> entries, ref int open, SampleTime end, Row row)
    {
        if (open < 0)
        {
            if (!issues.TryCount(AlarmListIssueCodes.EndWithoutStart, ""))
                issues.Doubt(AlarmListIssueCodes.EndWithoutStart, "", $"line {row.Line}", $"the end of an alarm: {IssueLog.Show(row.Text)}", "a row that begins it", "the line is not used: the alarm began before the list, or under another name");
            return;
        }

        entries[open] = entries[open] with { Length = end - entries[open].Start };
        open = -1;
        if (!issues.TryCount(AlarmListIssueCodes.RowEnds, ""))
            issues.Note(AlarmListIssueCodes.RowEnds, "", $"line {row.Line}", $"the end of an alarm: {IssueLog.Show(row.Text)}", "a row for each alarm", "it ends the last one of its condition");
    }

    private string TextOf(RowCells row)
    {
        string text = string.Empty;
        foreach (int column in columns.Text)
        {
            string part = row[column].Trim().ToString();
            if (part.Length > 0) text = text.Length == 0 ? part : $"{text} {part}";
            if (text.Length > TextLengthHeld) return text[..TextLengthHeld] + "…";
        }

        return text;
    }

    private Duration? LengthOf(RowCells row, int line, long start)
    {
        var length = columns.End >= 0 && !row[columns.End].IsWhiteSpace() ? clock.LengthTo(row[columns.End], start) : columns.Length >= 0 ? cells.Length(row[columns.Length]) : null;
        bool isGiven = (columns.End >= 0 && !row[columns.End].IsWhiteSpace()) || (columns.Length >= 0 && !row[columns.Length].IsWhiteSpace());
        if (isGiven && length is null) Remark(AlarmListIssueCodes.LengthUnreadable, line, row.Line, "an end or a duration", "its length is not known");
        if (length is not { } found || (found >= Duration.Zero && found.Milliseconds <= LongestMilliseconds)) return length;
        Remark(AlarmListIssueCodes.LengthImpossible, line, row.Line, "an end after the start, within ten days", "its length is not known");
        return null;
    }

    private void Remark(string code, int line, ReadOnlySpan<char> found, string expected, string assumed)
    {
        if (!issues.TryCount(code, "")) issues.Doubt(code, "", $"line {line}", IssueLog.Show(found), expected, assumed);
    }
}
