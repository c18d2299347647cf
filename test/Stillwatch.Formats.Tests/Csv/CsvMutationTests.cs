using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Csv.Layout;
using Stillwatch.Formats.Csv.Text;
using Stillwatch.Formats.Labels;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Tests.Csv;

/// <summary>
/// Damaged files: no crash, no hang, no endless allocation, and no silent repair. Lines and cells are counted again here, in the
/// plainest way, and the sums must come out.
/// </summary>
public partial class CsvMutationTests
{
    private const int Seed = 20261125;
    private const int AllocationBase = 2_000_000; // buffers, whatever the file
    private const int AllocationPerChannel = 150_000; // a channel is built in pieces of 8192 rows, however few there are
    private const int AllocationPerByte = 400; // the first lines are looked at cell by cell, several times

    private static readonly CsvReadOptions[] Options =
    [
        CsvReadOptions.Default,
        CsvReadOptions.Default,
        new() { DeclaredPeriod = new Time.Duration(1000) },
        Table.Map("time=#1,spo2=#2"),
        Table.Map("time=none,spo2=#2") with { DeclaredPeriod = new Time.Duration(500) },
        new() { Wanted = new HashSet<ChannelKind> { ChannelKind.SpO2 }, DateOrder = DateOrder.MonthFirst, LineLengthLimit = 200 },
    ];

    [Fact]
    public void Damaged_files_are_refused_clearly_or_read_with_every_line_and_cell_accounted_for()
    {
        int count = Environment.GetEnvironmentVariable("STILLWATCH_FULL") == "1" ? 100_000 : 1_000;
        int read = 0;
        for (int i = 0; i < count; i++)
        {
            var random = new Random(Seed + i);
            byte[] bytes = CsvMutations.Mutate(random);
            var options = Options[random.Next(Options.Length)];
            try
            {
                read += Check(bytes, options) ? 1 : 0;
            }
            catch (Exception e) when (e is not UnreadableFileException)
            {
                Assert.Fail($"Mutation {i} (seed {Seed}): {e}\n{Encoding.Latin1.GetString(bytes)}");
            }
        }

        // Otherwise the damage would be too coarse to test anything.
        Assert.InRange(read, count / 2, count);
    }

    [Fact]
    public void Undamaged_seeds_are_read()
    {
        Assert.All(CsvMutations.Seeds, seed => Assert.True(Table.Read(seed).Recording!.Channels[0].Times.Count > 0));
    }

    private static bool Check(byte[] bytes, CsvReadOptions options)
    {
        long before = GC.GetAllocatedBytesForCurrentThread();
        ReadResult? result = null;
        try
        {
            result = Table.Read(bytes, options);
        }
        catch (UnreadableFileException error)
        {
            Assert.All([error.Found, error.Expected, error.Where, error.LikelyCause], field => Assert.NotEqual("", field));
            return false;
        }
        finally
        {
            int channels = result?.Recording?.Channels.Count ?? options.ChannelLimit;
            long bound = AllocationBase + AllocationPerChannel * channels + (long)AllocationPerByte * bytes.Length;
            Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, bound);
        }

        Assert.InRange(result.Issues.Count, 0, 600);
        AccountForLinesAndCells(bytes, options, result);
        return result.Recording is not null;
    }

    private static void AccountForLinesAndCells(byte[] bytes, CsvReadOptions options, ReadResult result)
    {
        using var text = new GuardedText(new MemoryStream(bytes), "test.csv", options);
        var (layout, _, columns) = CsvReader.Plan(text, "test.csv", options, new IssueLog());
        var lines = LineEnd().Split(text.ReadToEnd()).ToList();
        if (lines[^1].Length == 0) lines.RemoveAt(lines.Count - 1);
        var rows = lines.Skip(layout.FirstRowLineNumber - 1).ToList();

        Assert.Equal(layout.FirstRowLineNumber - 1, result.Count("file.preamble") + result.Count("header.units") + (layout.HasHeader ? 1 : 0));
        long notUsed = result.Issues.Where(i => CsvIssueCodes.MeansLineNotUsed(i.Code)).Sum(i => i.Count);
        if (result.Recording is null) Assert.Equal(rows.Count, notUsed);
        if (result.Recording is null || result.Recording.Channels.Count == 0) return;
        long used = result.Recording.Channels[0].Times.Count;
        Assert.Equal(rows.Count, used + notUsed);

        var cells = rows.ConvertAll(row => Split(row, layout.Separator));
        foreach (var column in columns) AccountForCells(column, layout, cells, result, used, notUsed);
    }

    private static void AccountForCells(PlannedChannel column, CsvLayout layout, List<List<string>> cells, ReadResult result, long used, long notUsed)
    {
        int numbers = 0, blanks = 0, others = 0;
        foreach (var row in cells)
        {
            string cell = column.Index < row.Count ? row[column.Index] : "";
            if (string.IsNullOrWhiteSpace(cell)) blanks++;
            else if (IsNumber(cell, layout.DecimalMark, column.Kind)) numbers++;
            else others++;
        }

        // Columns of one name share their issues' places; they are told apart by label only where it is unique.
        if (result.Recording!.Channels.Count(c => c.Label == column.Label) > 1) return;
        var channel = result.Recording!.Channels.Single(c => c.Label == column.Label);
        if (channel.Counts is { } counts)
        {
            // Numbers of any size: each filled cell is held or listed.
            long heldCounts = Enumerable.Range(0, counts.Count).LongCount(i => counts[i] != CountColumn.Missing);
            long withoutNumber = result.Issues.Where(i => CsvIssueCodes.MeansCellWithoutNumber(i.Code) && i.Place.EndsWith($", column {column.Label}", StringComparison.Ordinal)).Sum(i => i.Count);
            Assert.InRange(heldCounts + withoutNumber, numbers + others - notUsed, numbers + others);
            return;
        }

        long held = Enumerable.Range(0, channel.Values.Count).LongCount(i => channel.Values[i] != ValueColumn.Missing);
        long listed = result.Issues.Where(i => CsvIssueCodes.MeansCellWithoutNumber(i.Code) && i.Place.EndsWith($", column {column.Label}", StringComparison.Ordinal)).Sum(i => i.Count);

        Assert.InRange(held, numbers - notUsed, numbers);
        Assert.InRange(listed, others - notUsed, others);
        Assert.InRange(used - held - listed, notUsed == 0 ? blanks : -notUsed, blanks); // below 0: a late row is found to repeat a time when its cells are listed already
    }

    private static bool IsNumber(string cell, char mark, ChannelKind kind)
    {
        string text = cell.Trim();
        if (kind == ChannelKind.SourceValid && text.ToLowerInvariant() is "true" or "yes" or "valid" or "ok" or "y" or "t" or "false" or "no" or "invalid" or "n" or "f") return true;
        bool percent = kind is ChannelKind.SpO2 or ChannelKind.InhaledOxygen or ChannelKind.PerfusionIndex && text.EndsWith('%');
        if (percent) text = text[..^1].TrimEnd();
        text = text.Replace('.', mark == '.' ? '.' : '!').Replace(mark, '.');
        return text.Length <= 64 && PlainNumber().IsMatch(text) && Math.Abs(double.Parse(text, CultureInfo.InvariantCulture)) <= 2147.483647
            && (!percent || DecimalText.Read(cell.AsSpan().Trim()[..^1], mark, out _) == NumberReading.Number);
    }

    // Quotes count at the beginning of a cell only; a cell ends at the separator or with the line.
    private static List<string> Split(string line, char separator)
    {
        var cells = new List<string>();
        int at = 0;
        while (true)
        {
            var cell = new StringBuilder();
            int start = at;
            while (start < line.Length && line[start] == ' ') start++;
            if (start < line.Length && line[start] == '"')
            {
                for (at = start + 1; at < line.Length && (line[at] != '"' || (at + 1 < line.Length && line[at + 1] == '"')); at++)
                {
                    if (line[at] == '"') at++;
                    cell.Append(line[at]);
                }

                at = Math.Min(at + 1, line.Length);
            }

            while (at < line.Length && line[at] != separator) cell.Append(line[at++]);
            cells.Add(cell.ToString());
            if (at >= line.Length) return cells;
            at++;
        }
    }

    [GeneratedRegex("\r\n|\n|\r")]
    private static partial Regex LineEnd();

    [GeneratedRegex(@"^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?\z", RegexOptions.ECMAScript)]
    private static partial Regex PlainNumber();
}
