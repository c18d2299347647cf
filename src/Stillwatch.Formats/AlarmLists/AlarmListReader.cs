using nietras.SeparatedValues;
using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Csv.Layout;
using Stillwatch.Formats.Csv.Rows;
using Stillwatch.Formats.Csv.Text;
using Stillwatch.Replay.Fidelity;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.AlarmLists;

/// <summary>What a reader of alarm lists returns.</summary>
/// <param name="Log">Its entries, understood or not, on the recording's time line.</param>
/// <param name="Issues">Everything odd that was met.</param>
public sealed record AlarmListResult(AlarmLog Log, IReadOnlyList<ReadIssue> Issues);

/// <summary>
/// Reads what a monitor itself signalled from a table of separated text, one alarm a row: when it began, what it was, and, where they
/// are there, when it ended or how long it lasted, its priority and its limit.
/// </summary>
/// <remarks>
/// The input is taken to be hostile: nothing is repaired silently, each line is an entry or counted in an issue, memory grows with the
/// file's own lines. A row that says that an alarm is over ends the last one of its condition; it is no entry of its own.
/// </remarks>
public static class AlarmListReader
{
    /// <param name="stream">Read to its end from where it stands; not closed.</param>
    /// <param name="name">To show, and in messages.</param>
    /// <param name="start">What is known of the clock at the recording's origin.</param>
    /// <param name="length">How long the recording is; only to tell on which day a time without a date lies.</param>
    /// <param name="options">How dates are read, separator and decimal mark, where the caller knows better.</param>
    /// <exception cref="UnreadableFileException">No table with times and texts, or its times cannot be joined to the recording's.</exception>
    public static AlarmListResult Read(Stream stream, string name, RecordingStart start, Duration length, CsvReadOptions? options = null)
    {
        options ??= CsvReadOptions.Default;
        var issues = new IssueLog();
        using var text = new GuardedText(stream, name, options);
        if (text.IsEncodingAssumed)
            issues.Doubt(CsvIssueCodes.FileEncoding, "", "line 1", "bytes that are not UTF-8, and no byte-order mark", "UTF-8, or UTF-16 with a byte-order mark", "Latin-1; letters beyond ASCII may be others");
        var layout = LayoutOf(text, name, options, issues);
        if (layout.HasHeader && layout.Sample.Count == 0)
        {
            issues.Doubt(AlarmListIssueCodes.NoEntries, "", $"line {layout.HeaderLineNumber}", "a header and no row below it", "a row for each alarm", "an empty list");
            return new AlarmListResult(new AlarmLog(name, []), issues.ToList());
        }

        var columns = AlarmListColumns.Find(layout, name, issues);
        var clock = new AlarmListClock(layout, columns, name, options, start, length, issues);
        var rows = new AlarmListRows(layout, columns, clock, issues);
        Collect(text, layout, rows);
        var entries = rows.Entries();
        long outside = entries.LongCount(e => e.Start < default(SampleTime) || e.Start.Milliseconds >= length.Milliseconds);
        if (outside > 0)
            issues.Doubt(AlarmListIssueCodes.OutsideRecording, "", $"line {layout.FirstRowLineNumber}", "entries before or after the recording", "entries within it", "kept; they count for nothing in a comparison", outside);
        return new AlarmListResult(new AlarmLog(name, entries), issues.ToList());
    }

    /// <summary>Where the header is and where the rows begin.</summary>
    internal static CsvLayout LayoutOf(GuardedText text, string name, CsvReadOptions options, IssueLog issues) =>
        LayoutFinder.Find(text.Head, text.IsHeadWhole, name, options, issues, AlarmListColumns.IsHeader);

    private static void Collect(GuardedText text, CsvLayout layout, AlarmListRows rows)
    {
        var quotedCells = new QuotedCells();
        using var reader = Sep.New(layout.Separator)
            .Reader(o => o with { HasHeader = false, DisableQuotesParsing = true, DisableColCountCheck = true })
            .From(text);
        int line = 0;
        foreach (var row in reader)
        {
            line++;
            if (line < layout.FirstRowLineNumber) continue;
            if (!text.HasQuotes || !row.Span.Contains('"')) rows.Add(new RowCells(row, null), line);
            else if (quotedCells.Split(row.Span, layout.Separator)) rows.Add(new RowCells(row, quotedCells), line);
            else rows.Skip(CsvIssueCodes.RowOpenQuote, line, row.Span, "a closing quote on the same line");
        }
    }
}
