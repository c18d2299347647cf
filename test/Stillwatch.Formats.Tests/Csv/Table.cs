using System.Text;
using Stillwatch.Formats.Csv;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Csv;

/// <summary>Reads small tables written in a test, and shows results as text that can be compared.</summary>
internal static class Table
{
    public static ReadResult Read(string text, CsvReadOptions? options = null) => Read(Encoding.UTF8.GetBytes(text), options);

    public static ReadResult Read(byte[] bytes, CsvReadOptions? options = null)
    {
        using var stream = new MemoryStream(bytes);
        return CsvReader.Read(stream, "test.csv", options);
    }

    public static Recording Recording(string text, CsvReadOptions? options = null) =>
        Read(text, options).Recording ?? throw new InvalidOperationException("No recording.");

    public static CsvReadOptions Map(string map) => new() { Map = ColumnMap.Parse(map) };

    /// <summary>The values of the channel to use of a kind: "97 - 96.5".</summary>
    public static string Values(this Recording recording, ChannelKind kind) => Values(recording.Find(kind) ?? throw new InvalidOperationException($"No {kind}."));

    public static string Values(Channel channel) => channel.Counts is { } counts ? string.Join(' ', Enumerable.Range(0, counts.Count).Select(i => $"{counts[i]}")) : string.Join(' ', Enumerable.Range(0, channel.Values.Count)
        .Select(i => channel.Values[i] == ValueColumn.Missing ? "-" : (channel.Values[i] / 1_000_000m).ToString("0.######")));

    /// <summary>The times of the rows in seconds: "0 1 2.5".</summary>
    public static string Seconds(this Recording recording) => string.Join(' ', Enumerable.Range(0, recording.Channels[0].Times.Count)
        .Select(i => (recording.Channels[0].Times.TimeAt(i).Milliseconds / 1000m).ToString("0.###")));

    public static ReadIssue Issue(this ReadResult result, string code) => result.Issues.First(i => i.Code == code);

    public static bool Has(this ReadResult result, string code) => result.Issues.Any(i => i.Code == code);

    public static long Count(this ReadResult result, string code) => result.Issues.Where(i => i.Code == code).Sum(i => i.Count);

    public static string Codes(this ReadResult result) => string.Join(' ', result.Issues.Select(i => i.Code).Distinct().Order(StringComparer.Ordinal));

    /// <summary>Everything a result says, for comparing two of them.</summary>
    public static string Print(this ReadResult result)
    {
        var text = new StringBuilder();
        if (result.Recording is { } recording)
        {
            text.AppendLine($"{recording.Start}");
            foreach (var channel in recording.Channels)
            {
                text.AppendLine($"{channel.Label}|{channel.Kind}|{channel.Unit}|{channel.Times.Period}");
                text.AppendLine(recording.Seconds()).AppendLine(Values(channel));
            }
        }

        foreach (var issue in result.Issues) text.AppendLine(issue.ToString());
        return text.ToString();
    }

    /// <summary>One line for the kind of start: "unknown", "22:00:05, date unknown" …, to the millisecond where there is one.</summary>
    public static string Show(this RecordingStart start) => start switch
    {
        RecordingStart.Local l => $"local {l.DateTime:yyyy-MM-ddTHH:mm:ss.FFF}",
        RecordingStart.Zoned z => $"zoned {z.DateTime:yyyy-MM-ddTHH:mm:ss.FFFzzz}",
        RecordingStart.TimeOfDay t => $"of day {t.Time:HH:mm:ss.FFF}",
        _ => "unknown",
    };
}
