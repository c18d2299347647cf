using Stillwatch.Formats.Csv.Layout;
using Stillwatch.Formats.Csv.Rows;
using Stillwatch.Formats.Csv.Text;
using Stillwatch.Formats.Csv.Times;
using Stillwatch.Formats.Labels;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Csv;

/// <summary>
/// Reads a recording from a table of comma- (or semicolon-, tab-, pipe-) separated text, one row a moment, in one pass and in
/// memory that grows with the columns held alone.
/// </summary>
/// <remarks>
/// The input is taken to be hostile. Nothing is repaired silently: each line is a row of the recording or counted in an
/// issue, each filled cell of a held column is a number or counted in an issue, and whatever was assumed is listed.
/// A file with the same bytes gives the same result however the stream hands them out.
/// </remarks>
public static class CsvReader
{
    /// <param name="stream">Read to its end from where it stands; not closed.</param>
    /// <param name="name">To show, and in messages.</param>
    /// <param name="options">What the caller knows; the default reads an ordinary file.</param>
    /// <exception cref="UnreadableFileException">The file is no table with times, or a column that was asked for is not in it.</exception>
    public static ReadResult Read(Stream stream, string name, CsvReadOptions? options = null)
    {
        options ??= CsvReadOptions.Default;
        var issues = new IssueLog();
        using var text = new GuardedText(stream, name, options);
        var (layout, timePlan, planned) = Plan(text, name, options, issues);
        var rows = new RowReader(layout, timePlan, planned, issues);
        rows.ReadAll(text);
        return new ReadResult(Finish(rows, layout, timePlan, planned, name, options, issues), issues.ToList());
    }

    /// <summary>Looks at the first part of a stream only (up to 256 kB of it are read).</summary>
    /// <exception cref="UnreadableFileException">The file is no table.</exception>
    public static CsvSniff Sniff(Stream stream, string name, CsvReadOptions? options = null)
    {
        options ??= CsvReadOptions.Default;
        using var text = new GuardedText(stream, name, options);
        var layout = FindLayout(text, name, options, new IssueLog());
        return new CsvSniff(text.EncodingName, layout.Separator, layout.DecimalMark, layout.HasHeader ? layout.HeaderLineNumber : null, layout.FirstRowLineNumber,
            [.. Enumerable.Range(0, layout.ColumnCount).Select(layout.LabelOf)]);
    }

    /// <summary>What is to be read of a file, decided on its first lines.</summary>
    internal static (CsvLayout Layout, TimePlan Time, List<PlannedChannel> Columns) Plan(GuardedText text, string name, CsvReadOptions options, IssueLog issues)
    {
        var layout = FindLayout(text, name, options, issues);
        if (layout.HasHeader && layout.Sample.Count == 0)
        {
            // Without this, the want of rows would be taken for the want of a time column.
            throw new UnreadableFileException(
                text.IsHeadWhole ? "a header and no row of values" : "a header and no row of values in the first part of the file",
                "rows of values below the header", $"{name}, line {layout.HeaderLineNumber}",
                text.IsHeadWhole ? "the export was stopped early, or nothing was recorded in the time asked for" : "the line below the header has no end: line ends were lost");
        }

        var timePlan = new TimeColumnFinder(layout, name, options, issues).Find();
        return (layout, timePlan, new ColumnPlanner(layout, name, options, issues).Plan([timePlan.Column, timePlan.DateColumn]));
    }

    private static CsvLayout FindLayout(GuardedText text, string name, CsvReadOptions options, IssueLog issues)
    {
        if (text.IsEncodingAssumed)
        {
            issues.Doubt(CsvIssueCodes.FileEncoding, "", "line 1", "bytes that are not UTF-8, and no byte-order mark", "UTF-8, or UTF-16 with a byte-order mark",
                "Latin-1; letters beyond ASCII may be others");
        }

        return LayoutFinder.Find(text.Head, text.IsHeadWhole, name, options, issues);
    }

    private static Recording? Finish(RowReader rows, CsvLayout layout, TimePlan timePlan, List<PlannedChannel> planned, string name, CsvReadOptions options, IssueLog issues)
    {
        if (rows.Rows.Count == 0)
        {
            issues.Failure(CsvIssueCodes.FileNoRows, "", $"line {layout.FirstRowLineNumber}", "no row with a time that can be read", "rows of values", "no recording");
            return null;
        }

        var (times, values) = rows.Rows.Build(options.RowPeriod, out long origin,
            _ => issues.Doubt(CsvIssueCodes.TimeRepeated, "", "among the rows out of order", "a time that an earlier line had", "each time once", "the first row of a time is kept, this one is not used"));
        if (timePlan.Rate is { IsWholeMilliseconds: false } rate) times = TimeAxis.Even(default, rate, times.Count); // the same times, their exact rate known
        var start = rows.Time.StartAt(origin);
        if (!start.IsKnown && origin != 0)
        {
            issues.Note(CsvIssueCodes.TimeOrigin, "", $"line {layout.FirstRowLineNumber}", $"a first time of {origin / 1000m:0.###} s", "a first time of 0 s", "time is counted from the first row");
        }

        if (!times.IsEven)
        {
            issues.Note(CsvIssueCodes.TimeUneven, "", $"line {layout.FirstRowLineNumber}", "rows that are not all the same time apart", "an even series",
                times.IsPeriodDeclared ? $"the period is {times.Period}, as declared" : $"the period is {times.Period}, the median step");
        }

        var finisher = new ChannelFinisher(issues, $"line {Math.Max(1, layout.HeaderLineNumber)}", layout.DescribeColumns, options);
        var channels = finisher.Finish(planned.Select((column, i) =>
        {
            var (decimals, counts) = values[i].Build(column, issues);
            return new FilledChannel(column, times, decimals, counts);
        }));
        return new Recording(name, start, channels, options.SourceAveraging, []);
    }
}
