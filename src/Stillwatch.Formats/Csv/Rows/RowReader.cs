using Stillwatch.Formats.Labels;
using nietras.SeparatedValues;
using Stillwatch.Formats.Csv.Layout;
using Stillwatch.Formats.Csv.Text;
using Stillwatch.Formats.Csv.Times;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Csv.Rows;

/// <summary>
/// Goes through the lines of a file once. Every line below the header either becomes a row of the recording or is counted
/// under one of the codes of <see cref="CsvIssueCodes.MeansLineNotUsed"/>.
/// </summary>
internal sealed class RowReader
{
    private readonly CsvLayout layout;
    private readonly TimePlan timePlan;
    private readonly TimeReader time;
    private readonly CellReader[] columns;
    private readonly IssueLog issues;
    private readonly QuotedCells quotedCells = new();
    private readonly int usualCells;
    private long lineNumber;
    private long rowsTimed;

    public RowReader(CsvLayout layout, TimePlan timePlan, IReadOnlyList<PlannedChannel> planned, IssueLog issues)
    {
        this.layout = layout;
        this.timePlan = timePlan;
        this.issues = issues;
        time = new TimeReader(timePlan, layout.DecimalMark);
        columns = [.. planned.Select(p => new CellReader(p, layout.DecimalMark, issues))];
        usualCells = layout.ColumnCount;
        Rows = new RowCollector(columns.Length);
    }

    public RowCollector Rows { get; }

    public TimeReader Time => time;

    public void ReadAll(GuardedText text)
    {
        // Quotes are ours to handle (see QuotedCells), and ragged rows are listed instead of stopping the reader.
        using var reader = Sep.New(layout.Separator)
            .Reader(o => o with { HasHeader = false, DisableQuotesParsing = true, DisableColCountCheck = true })
            .From(text);
        foreach (var row in reader)
        {
            lineNumber++;
            if (lineNumber < layout.FirstRowLineNumber) continue;
            if (!text.HasQuotes || !row.Span.Contains('"')) ReadRow(new RowCells(row, null));
            else if (quotedCells.Split(row.Span, layout.Separator)) ReadRow(new RowCells(row, quotedCells));
            else SkipLine(CsvIssueCodes.RowOpenQuote, IssueSeverity.Doubt, row.Span, "a closing quote on the same line");
        }
    }

    private void ReadRow(RowCells cells)
    {
        if (cells.Count > usualCells && !cells.AreBlank(usualCells))
        {
            SkipLine(CsvIssueCodes.RowTooManyCells, IssueSeverity.Doubt, cells.Line, Cells(usualCells));
            return;
        }

        if (!TryTime(cells, out long milliseconds)) return;
        if (!Rows.TryOpen(milliseconds))
        {
            SkipLine(CsvIssueCodes.TimeRepeated, IssueSeverity.Doubt, cells.Line, "a later time than the row before",
                "the first row of a time is kept, this one is not used; times too coarse for the rate can be left aside: --map time=none --period S, S being the seconds from row to row");
            return;
        }

        NoteRow(cells);
        for (int c = 0; c < columns.Length; c++) Rows.Add(c, columns[c].Read(cells[columns[c].Column.Index], lineNumber));
    }

    private bool TryTime(RowCells cells, out long milliseconds)
    {
        milliseconds = 0;
        if (timePlan.Form == TimeForm.RowCount)
        {
            if (cells.AreBlank(0))
            {
                SkipBlank();
                return false;
            }

            milliseconds = timePlan.Rate!.Value.MillisecondsAt(rowsTimed++);
            return true;
        }

        if (time.TryRead(cells[timePlan.Column], timePlan.DateColumn < 0 ? [] : cells[timePlan.DateColumn], out milliseconds)) return true;
        if (cells.AreBlank(0)) SkipBlank();
        else if (IsRemark(cells)) SkipLine(CsvIssueCodes.RowText, IssueSeverity.Note, cells.Line, "a row of values");
        else SkipLine(CsvIssueCodes.TimeUnreadable, IssueSeverity.Doubt, cells.Line, "a time like those of the first rows");
        return false;
    }

    // A sentence in the first cell and nothing beside it.
    private static bool IsRemark(RowCells cells) => cells.AreBlank(1) && CellShapes.Of(cells[0]) == CellShape.Text;

    private void SkipBlank()
    {
        if (!issues.TryCount(CsvIssueCodes.RowBlank, ""))
            issues.Note(CsvIssueCodes.RowBlank, "", $"line {lineNumber}", "a blank line", "a row of values", "the line is not used");
    }

    private void SkipLine(string code, IssueSeverity severity, ReadOnlySpan<char> line, string expected, string assumed = "the line is not used")
    {
        if (issues.TryCount(code, "")) return;
        string found = IssueLog.Show(line);
        if (severity == IssueSeverity.Note) issues.Note(code, "", $"line {lineNumber}", found, expected, assumed);
        else issues.Doubt(code, "", $"line {lineNumber}", found, expected, assumed);
    }

    private void NoteRow(RowCells cells)
    {
        if (cells.Count != usualCells)
        {
            if (cells.Count > usualCells) Count(CsvIssueCodes.CellsSurplusEmpty, IssueSeverity.Note, $"{Cells(cells.Count)}, the last ones empty", Cells(usualCells), "the empty ones are left out");
            else if (cells.Count < layout.Width) Count(CsvIssueCodes.CellsMissing, IssueSeverity.Doubt, Cells(cells.Count), Cells(layout.Width), "the missing ones at the end are rows without a number");
        }

        if (time.WasRounded) Count(CsvIssueCodes.TimeRounded, IssueSeverity.Note, IssueLog.Show(cells[timePlan.Column]), "times in whole milliseconds", "rounded to 0.001 s");
        if (time.PassedMidnight) Count(CsvIssueCodes.TimeMidnight, IssueSeverity.Note, IssueLog.Show(cells[timePlan.Column]), "a later time of day than before", "midnight passed");
        if (Rows.LastIsLate)
        {
            Count(CsvIssueCodes.TimeOutOfOrder, IssueSeverity.Doubt, IssueLog.Show(cells[timePlan.Column]), "a later time than the row before",
                "rows are put in order of their times; live, alarms may have been decided otherwise (or a clock was put back)");
        }
    }

    private static string Cells(int count) => count == 1 ? "1 cell" : $"{count} cells";

    private void Count(string code, IssueSeverity severity, string found, string expected, string assumed)
    {
        if (issues.TryCount(code, "")) return;
        if (severity == IssueSeverity.Note) issues.Note(code, "", $"line {lineNumber}", found, expected, assumed);
        else issues.Doubt(code, "", $"line {lineNumber}", found, expected, assumed);
    }
}
