using Stillwatch.Formats.Labels;
using Stillwatch.Formats.Csv.Text;

namespace Stillwatch.Formats.Csv.Layout;

/// <summary>Finds separator, header row and decimal mark from the first lines of a file.</summary>
internal sealed class LayoutFinder
{
    private const int LinesLookedAt = 1000;
    private const int LinesToHeader = 50;
    private const int SampleRows = 200;

    // In the order of preference where nothing else decides: a comma is also a decimal mark.
    private static readonly char[] Separators = ['\t', ';', '|', ','];

    private readonly string name;
    private readonly CsvReadOptions options;
    private readonly IssueLog issues;
    private readonly List<string> lines;
    private readonly bool isWhole;
    private readonly QuotedCells splitter = new();

    private readonly Func<LabelName, bool> isName;

    private LayoutFinder(string head, bool isWhole, string name, CsvReadOptions options, IssueLog issues, Func<LabelName, bool> isName)
    {
        this.isName = isName;
        this.name = name;
        this.options = options;
        this.issues = issues;
        this.isWhole = isWhole;
        lines = LinesOf(head, isWhole);
    }

    /// <exception cref="UnreadableFileException">No table, or too many columns.</exception>
    public static CsvLayout Find(string head, bool isWhole, string name, CsvReadOptions options, IssueLog issues) =>
        Find(head, isWhole, name, options, issues, n => LabelVocabulary.KindOf(n) is not null || LabelVocabulary.MeansTime(n) || LabelVocabulary.MeansDate(n));

    /// <summary>The same of a table whose columns bear other names than a recording's.</summary>
    /// <exception cref="UnreadableFileException">No table, or too many columns.</exception>
    public static CsvLayout Find(string head, bool isWhole, string name, CsvReadOptions options, IssueLog issues, Func<LabelName, bool> isName) =>
        new LayoutFinder(head, isWhole, name, options, issues, isName).Find();

    private CsvLayout Find()
    {
        if (lines.All(string.IsNullOrWhiteSpace))
        {
            throw new UnreadableFileException(
                lines.Count == 0 && !isWhole ? "no line end in the first part of the file" : "blank lines only",
                "a table of rows with times", name, "not a CSV file, or an export without data");
        }

        char separator = options.Separator ?? FindSeparator();
        var rows = lines.ConvertAll(line => splitter.ToStrings(line, separator));
        int widest = rows.Max(r => r.Length);
        if (widest > options.ColumnLimit)
        {
            int line = rows.FindIndex(r => r.Length == widest) + 1;
            throw new UnreadableFileException($"{widest} columns", $"at most {options.ColumnLimit}", $"{name}, line {line}", "not a table of one row per moment, or a transposed one");
        }

        int header = FindHeader(rows);
        int firstRow = header >= 0 ? header + 1 : FindFirstRow(rows);
        string[] units = header >= 0 ? TakeUnits(rows, ref firstRow) : [];
        int preambleEnd = header >= 0 ? header : firstRow;
        if (preambleEnd > 0)
        {
            issues.Note(CsvIssueCodes.FilePreamble, "", "line 1", IssueLog.Show(lines[0]), "the header row",
                $"the first {preambleEnd} line(s) stand before the table and are not used", preambleEnd);
        }

        var sample = rows.Skip(firstRow).Where(r => r.Any(c => !string.IsNullOrWhiteSpace(c))).Take(SampleRows).ToList();
        var headers = header < 0
            ? []
            : rows[header].Select((text, i) => new LabelName(text, i < units.Length ? units[i] : "")).ToList();
        NoteHeader(headers, header);
        return new CsvLayout(separator, options.DecimalMark ?? FindDecimalMark(rows, firstRow, separator), headers, header + 1, firstRow + 1, UsualWidth(sample, headers.Count), sample);
    }

    private static List<string> LinesOf(string head, bool isWhole)
    {
        var found = new List<string>();
        int start = 0;
        while (start < head.Length && found.Count < LinesLookedAt)
        {
            int end = head.AsSpan(start).IndexOfAny('\n', '\r');
            if (end < 0)
            {
                if (isWhole) found.Add(head[start..]);
                break;
            }

            end += start;
            found.Add(head[start..end]);
            start = end + (head[end] == '\r' && end + 1 < head.Length && head[end + 1] == '\n' ? 2 : 1);
        }

        return found;
    }

    private char FindSeparator()
    {
        var scores = Separators.Select(s => (Separator: s, Score: ScoreOf(s))).OrderByDescending(s => s.Score).ToList();
        var (best, score) = scores[0];
        if (score.Evenness == 0) return ',';
        if (scores[1].Score is var second && second.IsNamed == score.IsNamed && second.Evenness == score.Evenness)
        {
            issues.Note(CsvIssueCodes.FileSeparator, "", "line 1", $"lines that split evenly at {Describe(best)} and at {Describe(scores[1].Separator)}",
                "one separator", $"{Describe(best)} separates cells");
        }

        return best;
    }

    private (int IsNamed, int Evenness, int Names) ScoreOf(char separator)
    {
        var counts = new Dictionary<int, int>();
        int filled = 0, names = 0;
        for (int i = 0; i < lines.Count; i++)
        {
            if (string.IsNullOrWhiteSpace(lines[i])) continue;
            filled++;
            splitter.Split(lines[i], separator);
            if (splitter.Count > 1) counts[splitter.Count] = counts.GetValueOrDefault(splitter.Count) + 1;
            if (filled <= LinesToHeader && splitter.Count > 1) names = Math.Max(names, NamesIn(splitter.ToStrings(lines[i], separator)));
        }

        int even = counts.Count == 0 ? 0 : counts.Values.Max();
        int evenness = even == 0 ? 0 : even * 10 >= filled * 8 ? 3 : even * 2 >= filled ? 2 : 1;
        return (names > 0 ? 1 : 0, evenness, names);
    }

    private static string Describe(char separator) => separator == '\t' ? "the tab" : $"\"{separator}\"";

    // Cells whose text is the name of something we know, or that the user asked for.
    private int NamesIn(string[] cells)
    {
        int count = 0;
        foreach (string cell in cells)
        {
            if (cell.Length is 0 or > 100 || CellShapes.Of(cell).IsValue()) continue;
            var header = new LabelName(cell);
            if (isName(header) || IsAskedFor(header.Raw)) count++;
        }

        return count;
    }

    private bool IsAskedFor(string header) =>
        options.Map.Channels.Values.Append(options.Map.Time).Append(options.Map.Date).Append(options.Channel)
            .Any(asked => asked is not null && header.Equals(asked.Trim('"'), StringComparison.OrdinalIgnoreCase));

    private int FindHeader(List<string[]> rows)
    {
        int best = -1, bestNames = 0, bestValues = 0;
        for (int i = 0; i < Math.Min(rows.Count, LinesToHeader); i++)
        {
            int filled = rows[i].Count(c => !string.IsNullOrWhiteSpace(c));
            int values = rows[i].Count(c => CellShapes.Of(c).IsValue());
            int names = NamesIn(rows[i]);
            if (names == 0 || values * 2 > filled) continue;
            if (names > bestNames || (names == bestNames && values < bestValues)) (best, bestNames, bestValues) = (i, names, values);
        }

        return best >= 0 ? best : FindUnknownHeader(rows);
    }

    // Names that say nothing to us: a row of texts right above a row of as many cells with numbers in it.
    private static int FindUnknownHeader(List<string[]> rows)
    {
        for (int i = 0; i + 1 < Math.Min(rows.Count, LinesToHeader); i++)
        {
            if (rows[i].Any(c => CellShapes.Of(c).IsValue())) return -1;
            if (rows[i].Any(c => !string.IsNullOrWhiteSpace(c)) && rows[i].Length == rows[i + 1].Length && rows[i + 1].Any(c => CellShapes.Of(c).IsValue())) return i;
        }

        return -1;
    }

    private static int FindFirstRow(List<string[]> rows)
    {
        int usual = rows.Where(r => r.Any(c => CellShapes.Of(c).IsValue())).GroupBy(r => r.Length).OrderByDescending(g => g.Count()).FirstOrDefault()?.Key ?? 0;
        int first = rows.FindIndex(r => r.Length == usual && r.Any(c => CellShapes.Of(c).IsValue()));
        return first < 0 || first > LinesToHeader ? 0 : first;
    }

    private string[] TakeUnits(List<string[]> rows, ref int firstRow)
    {
        if (firstRow >= rows.Count) return [];
        var filled = rows[firstRow].Where(c => !string.IsNullOrWhiteSpace(c)).ToList();
        if (filled.Count == 0 || filled.Any(c => CellShapes.Of(c).IsValue()) || filled.Count(LabelVocabulary.IsUnit) * 2 < filled.Count) return [];
        issues.Note(CsvIssueCodes.HeaderUnits, "", $"line {firstRow + 1}", IssueLog.Show(lines[firstRow]), "the first row of values", "taken as the units of the columns");
        return rows[firstRow++];
    }

    private static int UsualWidth(List<string[]> sample, int headerCount)
    {
        if (sample.Count == 0) return headerCount;
        return sample.GroupBy(r => r.Length).OrderByDescending(g => g.Count()).ThenByDescending(g => g.Key == headerCount).First().Key;
    }

    private char FindDecimalMark(List<string[]> rows, int firstRow, char separator)
    {
        int points = 0, commas = 0, threeDecimals = 0;
        foreach (var row in rows.Skip(firstRow))
        {
            foreach (string cell in row)
            {
                var text = cell.AsSpan().Trim();
                int mark = text.IndexOfAny('.', ',');
                if (mark <= 0 || !DecimalText.LooksLikeNumber(text)) continue;
                if (text[mark] == '.') points++;
                else commas++;
                if (text[mark] == ',' && text.Length - mark == 4) threeDecimals++;
            }
        }

        if (points > 0 && commas > 0)
        {
            issues.Doubt(CsvIssueCodes.FileDecimalMark, "", $"line {firstRow + 1}", $"{points} numbers with a point, {commas} with a comma in the first rows",
                "one decimal mark", $"\"{(commas > points ? ',' : '.')}\" is the decimal mark; cells with the other are listed as text");
        }
        else if (commas > 0 && (threeDecimals == commas || separator == ','))
        {
            issues.Doubt(CsvIssueCodes.FileDecimalMark, "", $"line {firstRow + 1}", "commas inside numbers, such as may part thousands",
                "a decimal mark that is clear", "the comma is the decimal mark");
        }

        return commas > points ? ',' : '.';
    }

    private void NoteHeader(List<LabelName> headers, int header)
    {
        if (header < 0)
        {
            issues.Doubt(CsvIssueCodes.HeaderAbsent, "", "line 1", IssueLog.Show(lines[0]), "a header row that names the columns",
                "columns have numbers for names (#1, #2 …); say what they are with --map, e.g. --map time=#1,spo2=#2");
            return;
        }

        foreach (var group in headers.Where(h => h.Raw.Length > 0).GroupBy(h => h.Raw).Where(g => g.Count() > 1))
        {
            issues.Doubt(CsvIssueCodes.HeaderDuplicate, group.Key, $"line {header + 1}", $"{group.Count()} columns named {IssueLog.Show(group.Key)}",
                "one name for each column", "each is a column of its own; choose by number, e.g. #2");
        }

        int lastNamed = headers.FindLastIndex(h => h.Raw.Length > 0);
        int empty = headers.Take(lastNamed).Count(h => h.Raw.Length == 0);
        if (empty > 0)
        {
            int first = headers.FindIndex(h => h.Raw.Length == 0) + 1;
            issues.Note(CsvIssueCodes.HeaderEmptyName, "", $"line {header + 1}, column #{first}", "an empty header cell", "a name", "the column is known by its number only", empty);
        }
    }
}
