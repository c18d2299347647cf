using Stillwatch.Formats.Csv.Layout;
using Stillwatch.Formats.Labels;
using Stillwatch.Time;

namespace Stillwatch.Formats.Csv.Times;

/// <summary>Finds the column, or the two, that tell the time of a row, by the user's word, by header and by content.</summary>
internal sealed class TimeColumnFinder(CsvLayout layout, string name, CsvReadOptions options, IssueLog issues)
{
    private readonly TimeFormFinder forms = new(layout, options, issues);

    /// <exception cref="UnreadableFileException">No time column, and no declared period either.</exception>
    public TimePlan Find()
    {
        int date = options.Map.Date is { } dateName ? layout.Resolve(dateName, name) : -1;
        if (options.Map.CountsRows) return CountRows("--map time=none", "without --period", "times not to be used, as asked for");
        if (options.Map.Time is { } timeName) return forms.Plan(layout.Resolve(timeName, name), date);

        var columns = Enumerable.Range(0, layout.ColumnCount).Where(c => c != date).ToList();
        var named = columns.Where(c => LabelVocabulary.MeansTime(layout.NameOf(c)) || LabelVocabulary.MeansDate(layout.NameOf(c)))
            .Select(c => (Column: c, Shape: CommonestValue(c)))
            .Where(c => c.Shape is CellShape.Number or CellShape.Clock or CellShape.DateAndClock)
            .Where(c => c.Shape != CellShape.Number || LabelVocabulary.MeansTime(layout.NameOf(c.Column)))
            .OrderByDescending(c => Rank(c.Shape)).ToList();
        if (named.Count > 0)
        {
            int column = named[0].Column;
            if (date < 0 && named[0].Shape == CellShape.Clock) date = FindDateColumn();
            NoteSeveral(named.ConvertAll(c => c.Column), column);
            return forms.Plan(column, date);
        }

        // The name says nothing, the content does: most cells are clock readings.
        var byContent = columns.Where(c => ShapeOf(c) is CellShape.Clock or CellShape.DateAndClock).ToList();
        if (byContent.Count > 0)
        {
            int column = byContent[0];
            if (date < 0 && ShapeOf(column) == CellShape.Clock) date = FindDateColumn();
            issues.Note(CsvIssueCodes.TimeByContent, "", $"line {Math.Max(1, layout.HeaderLineNumber)}, column #{column + 1}",
                layout.NameOf(column).Raw.Length == 0 ? "no header" : $"header {IssueLog.Show(layout.NameOf(column).Raw)}", "a header that means time", "taken as the time: its cells are clock readings");
            return forms.Plan(column, date);
        }

        return CountRows("no time column", $"among {layout.DescribeColumns()}", "no time column");
    }

    private TimePlan CountRows(string found, string detail, string noted)
    {
        string place = $"line {Math.Max(1, layout.HeaderLineNumber)}";
        if (options.DeclaredRate is { } rate)
        {
            issues.Note(CsvIssueCodes.TimeNone, "", place, noted, "a time for each row", $"{rate}, as declared");
            return new TimePlan(TimeForm.RowCount, -1, Rate: rate);
        }

        if (options.DeclaredPeriod is { Milliseconds: > 0 } period)
        {
            issues.Note(CsvIssueCodes.TimeNone, "", place, noted, "a time for each row", $"one row every {period}, as declared");
            return new TimePlan(TimeForm.RowCount, -1, Rate: SampleRate.FromPeriod(period));
        }

        if (options.Map.CountsRows)
        {
            throw new UnreadableFileException($"{found} {detail}", "the period at which rows are to be counted", $"{name}, {place}",
                "rows without times are counted at a period that you declare: add --period S, S being the seconds from row to row (--period 1), or --rate HZ, the rows a second (--rate 125)");
        }

        throw new UnreadableFileException($"{found} {detail}",
            "a column of times (ISO date and time, time of day, elapsed seconds …), or a declared period (--period S)", $"{name}, {place}",
            "an unusual header or none: name the column with --map time=NAME or --map time=#1, or declare the seconds from row to row with --period S, or the rows a second with --rate HZ");
    }

    private static int Rank(CellShape shape) => shape switch
    {
        CellShape.DateAndClock => 3,
        CellShape.Clock => 2,
        _ => 1,
    };

    // The shape of most of the filled cells; text where none prevails.
    private CellShape ShapeOf(int column)
    {
        int filled = layout.CountInSample(column, s => s != CellShape.Blank);
        foreach (var shape in new[] { CellShape.DateAndClock, CellShape.Clock, CellShape.Date, CellShape.Number })
        {
            if (filled > 0 && layout.CountInSample(column, s => s == shape) * 2 > filled) return shape;
        }

        return CellShape.Text;
    }

    // The commonest shape of the cells that hold a value, however many remarks stand between them.
    private CellShape CommonestValue(int column)
    {
        var shapes = new[] { CellShape.DateAndClock, CellShape.Clock, CellShape.Date, CellShape.Number };
        var commonest = shapes.MaxBy(shape => layout.CountInSample(column, s => s == shape));
        return layout.CountInSample(column, s => s == commonest) > 0 ? commonest : CellShape.Text;
    }

    private int FindDateColumn()
    {
        for (int c = 0; c < layout.ColumnCount; c++)
        {
            if (LabelVocabulary.MeansDate(layout.NameOf(c)) && (ShapeOf(c) == CellShape.Date || IsMidnights(c))) return c;
        }

        return -1;
    }

    // Spreadsheets write a pure date as "2026-01-31 00:00:00".
    private bool IsMidnights(int column) =>
        ShapeOf(column) == CellShape.DateAndClock
        && layout.Sample.All(r => column >= r.Length || !ClockText.TryRead(r[column], DateOrder.Ask, out var t) || t.MillisecondsOfDay == 0);

    private void NoteSeveral(List<int> columns, int chosen)
    {
        if (columns.Count < 2) return;
        issues.Note(CsvIssueCodes.TimeSeveral, "", $"line {layout.HeaderLineNumber}", string.Join(", ", columns.Take(10).Select(c => $"\"{layout.LabelOf(c)}\"")),
            "one time column", $"\"{layout.LabelOf(chosen)}\" is taken; --map time=NAME picks another");
    }
}
