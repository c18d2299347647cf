using System.Text;
using System.Text.RegularExpressions;
using Stillwatch.Formats.AlarmLists;
using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Csv.Text;
using Stillwatch.Formats.Tests.Csv;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.AlarmLists;

/// <summary>Damaged lists: no crash, no hang, no endless allocation, and every line an entry or counted in an issue.</summary>
public partial class AlarmListMutationTests
{
    private const int Seed = 20261125;
    private const int AllocationBase = 2_000_000; // buffers, whatever the file
    private const int AllocationPerByte = 2_000; // each line's words are looked up one by one, each a name of its own

    private static readonly RecordingStart[] StartsOfRecordings =
    [
        new RecordingStart.Local(new DateTime(2026, 3, 2, 22, 0, 0)), new RecordingStart.Unknown(), new RecordingStart.TimeOfDay(new TimeOnly(22, 0)),
        new RecordingStart.Zoned(new DateTimeOffset(2026, 3, 2, 22, 0, 0, TimeSpan.FromHours(-5))),
    ];

    private static readonly IReadOnlyList<byte[]> Lists =
    [
        Rows("Start,End,Alarm,Priority,Limit\n", i => $"2026-03-02 22:{i:00}:05,2026-03-02 22:{i:00}:35,SpO2 low,high,90\n"),
        Rows("Beginn;Dauer (s);Meldung\r\n", i => $"02.03.2026 22:{i:00}:05;{i},5;Puls hoch\r\n"),
        Rows("time_s\ttext\tstate\n", i => $"{i * 61}\tSpO2 < {80 + i % 10}\t{(i % 2 == 0 ? "on" : "off")}\n"),
        Rows("Time,Alarm\n", i => $"{(23 + i / 20) % 24:00}:{i % 20:00}:59,\"{(i % 3 == 0 ? "sensor off" : "SpO2, low")}\"\n"),
        Rows("Exported list\n\nDate|Time|End|Event\n", i => $"2026-03-02|22:{i:00}:00|22:{i:00}:09|{(i % 5 == 0 ? "bed up" : "low perfusion")}\n"),
    ];

    [Fact]
    public void Damaged_lists_are_refused_clearly_or_read_with_every_line_accounted_for()
    {
        int count = Environment.GetEnvironmentVariable("STILLWATCH_FULL") == "1" ? 100_000 : 1_000;
        int read = 0;
        for (int i = 0; i < count; i++)
        {
            var random = new Random(Seed + i);
            byte[] bytes = CsvMutations.Mutate(random, Lists);
            var start = StartsOfRecordings[random.Next(4) == 0 ? random.Next(StartsOfRecordings.Length) : 0];
            try
            {
                read += Check(bytes, start) ? 1 : 0;
            }
            catch (Exception e) when (e is not UnreadableFileException)
            {
                Assert.Fail($"Mutation {i} (seed {Seed}): {e}\n{Encoding.Latin1.GetString(bytes)}");
            }
        }

        // Otherwise the damage would be too coarse to test anything.
        Assert.InRange(read, count / 2, count);
    }

    private static bool Check(byte[] bytes, RecordingStart start)
    {
        long before = GC.GetAllocatedBytesForCurrentThread();
        AlarmListResult result;
        try
        {
            result = AlarmListReader.Read(new MemoryStream(bytes), "alarms.csv", start, Duration.FromHours(8));
        }
        catch (UnreadableFileException error)
        {
            Assert.All([error.Found, error.Expected, error.Where, error.LikelyCause], field => Assert.NotEqual("", field));
            return false;
        }
        finally
        {
            Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, AllocationBase + (long)AllocationPerByte * bytes.Length);
        }

        Assert.InRange(result.Issues.Count, 0, 1100);
        Assert.Equal(LinesBelowHeader(bytes), result.Log.Entries.Count + result.Issues.Where(i => AlarmListIssueCodes.MeansLineWithoutEntry(i.Code)).Sum(i => i.Count));
        Assert.All(result.Log.Entries, e => Assert.True(e.Text.Length is > 0 and <= 201 && (e.Length is null || e.Length >= Duration.Zero)));
        Assert.Equal(result.Log.Entries.Count - result.Log.Signals.Count, result.Log.NotUnderstood.Sum(t => t.Count));
        return true;
    }

    private static int LinesBelowHeader(byte[] bytes)
    {
        using var text = new GuardedText(new MemoryStream(bytes), "alarms.csv", CsvReadOptions.Default);
        var layout = AlarmListReader.LayoutOf(text, "alarms.csv", CsvReadOptions.Default, new IssueLog());
        var lines = LineEnd().Split(text.ReadToEnd()).ToList();
        if (lines[^1].Length == 0) lines.RemoveAt(lines.Count - 1);
        return layout is { HasHeader: true, Sample.Count: 0 } ? 0 : lines.Count - (layout.FirstRowLineNumber - 1);
    }

    [GeneratedRegex("\r\n|\n|\r")]
    private static partial Regex LineEnd();

    private static byte[] Rows(string header, Func<int, string> row) => Encoding.UTF8.GetBytes(header + string.Concat(Enumerable.Range(0, 40).Select(row)));
}
