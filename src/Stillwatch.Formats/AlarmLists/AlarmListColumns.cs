using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Csv.Layout;
using Stillwatch.Formats.Labels;

namespace Stillwatch.Formats.AlarmLists;

/// <summary>Which column of a list is what; −1 and empty: none.</summary>
internal sealed record AlarmListColumns(int Start, int Date, int End, int Length, int Priority, int Limit, int State, IReadOnlyList<int> Text)
{
    private enum Part
    {
        None,
        Start,
        Date,
        End,
        Length,
        Priority,
        Limit,
        Value,
        State,
        Text,
    }

    /// <summary>By the words of the header; where they say nothing, by what the cells look like.</summary>
    /// <exception cref="UnreadableFileException">No times, or no texts.</exception>
    public static AlarmListColumns Find(CsvLayout layout, string name, IssueLog issues)
    {
        int count = layout.ColumnCount;
        Part[] parts = [.. Enumerable.Range(0, count).Select(c => PartOf(layout.NameOf(c)))];
        int start = StartOf(layout, parts);
        if (start < 0)
        {
            throw new UnreadableFileException($"no column of times among {layout.DescribeColumns()}", "a column that says when each alarm began (a clock, date and clock, or seconds)",
                $"{name}, line {Math.Max(1, layout.HeaderLineNumber)}", "an unusual header: name it Start or Time; or this is no list of alarms");
        }

        parts[start] = Part.Start;
        int date = Mostly(layout, start) == CellShape.Clock ? Array.FindIndex(parts, p => p == Part.Date) : -1;
        List<int> text = [.. Enumerable.Range(0, count).Where(c => parts[c] == Part.Text && c != start && layout.CountInSample(c, s => s == CellShape.Text) > 0)];
        if (text.Count == 0)
        {
            // A column of words that is nothing else: the one with the most.
            int likely = Enumerable.Range(0, count).Where(c => parts[c] is Part.None && layout.CountInSample(c, s => s == CellShape.Text) > 0)
                .OrderByDescending(c => layout.CountInSample(c, s => s == CellShape.Text)).FirstOrDefault(-1);
            if (likely < 0)
            {
                throw new UnreadableFileException($"no column of texts among {layout.DescribeColumns()}", "a column that says what each alarm was (SpO2 low …)",
                    $"{name}, line {Math.Max(1, layout.HeaderLineNumber)}", "an unusual header: name it Alarm or Text; or this is a recording and no list of alarms");
            }

            text.Add(likely);
            issues.Note(AlarmListIssueCodes.TextByContent, "", $"line {Math.Max(1, layout.HeaderLineNumber)}, column {layout.LabelOf(likely)}", IssueLog.Show(layout.LabelOf(likely)), "a header that means the alarm's text", "taken as the alarm's text: its cells are words");
        }

        var columns = new AlarmListColumns(start, date, First(Part.End), First(Part.Length), First(Part.Priority), First(Part.Limit), First(Part.State), text);
        foreach (int column in Enumerable.Range(0, count).Where(c => !columns.Uses(c) && layout.NameOf(c).Raw.Length > 0))
            issues.Note(AlarmListIssueCodes.ColumnNotUsed, layout.LabelOf(column), $"line {layout.HeaderLineNumber}, column {layout.LabelOf(column)}", IssueLog.Show(layout.LabelOf(column)), "start, end or duration, text, priority, limit or state", "the column is not used");
        return columns;

        int First(Part part) => Enumerable.Range(0, count).FirstOrDefault(c => parts[c] == part && c != start && !text.Contains(c), -1);
    }

    /// <summary>Whether a cell is the header of a column of a list, and not the text of an alarm.</summary>
    public static bool IsHeader(LabelName name) => PartOf(name) != Part.None && AlarmText.Read(name.Raw).Condition is null;

    private bool Uses(int column) => column == Start || column == Date || column == End || column == Length || column == Priority || column == Limit || column == State || Text.Contains(column);

    private static int StartOf(CsvLayout layout, Part[] parts)
    {
        int[] columns = [.. Enumerable.Range(0, parts.Length)];
        var named = columns.Where(c => parts[c] is Part.Start or Part.Date)
            .Where(c => Mostly(layout, c) is CellShape.Clock or CellShape.DateAndClock || (Mostly(layout, c) == CellShape.Number && parts[c] == Part.Start)).ToList();
        // "Time" is less exact than "Start", should both be there.
        if (named.Count > 0) return named.OrderByDescending(c => layout.NameOf(c).HasAny(AlarmVocabulary.StartHeader)).ThenByDescending(c => Mostly(layout, c) == CellShape.DateAndClock).First();
        return columns.Where(c => parts[c] is Part.None or Part.Text).FirstOrDefault(c => Mostly(layout, c) is CellShape.Clock or CellShape.DateAndClock, -1);
    }

    private static CellShape Mostly(CsvLayout layout, int column) =>
        new[] { CellShape.DateAndClock, CellShape.Clock, CellShape.Date, CellShape.Number, CellShape.Text }.MaxBy(shape => layout.CountInSample(column, s => s == shape));

    private static Part PartOf(LabelName header)
    {
        // "Alarmbeginn", "Alarmtext": one word in German and the Scandinavian languages.
        var name = new LabelName(string.Join(' ', header.Words.Select(w => w.Length > 5 && w.StartsWith("alarm", StringComparison.Ordinal) ? "alarm " + w[5..] : w)));
        if (name.Words.Count == 0) return Part.None;
        if (name.HasAny(AlarmVocabulary.LengthHeader)) return Part.Length;
        if (name.HasAny(AlarmVocabulary.EndHeader)) return Part.End;
        if (name.HasAny(AlarmVocabulary.PriorityHeader)) return Part.Priority;
        if (name.HasAny(AlarmVocabulary.Limit)) return Part.Limit;
        if (name.HasAny(AlarmVocabulary.ValueHeader)) return Part.Value;
        if (name.HasAny(AlarmVocabulary.StartHeader)) return Part.Start;
        var withoutAlarm = new LabelName(string.Join(' ', name.Words.Where(w => !AlarmVocabulary.TextHeader.Contains(w))));
        if (LabelVocabulary.MeansTime(withoutAlarm)) return Part.Start;
        if (LabelVocabulary.MeansDate(withoutAlarm)) return Part.Date;
        if (name.HasAny(AlarmVocabulary.StateHeader)) return Part.State;
        return name.HasAny(AlarmVocabulary.TextHeader) ? Part.Text : Part.None;
    }
}
