using System.Diagnostics;
using System.Text.Json;
using DuckDB.NET.Data;
using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Json;
using Stillwatch.Formats.Parquet;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Writing;

/// <summary>Programs that are not ours read what we write, with equal values: DuckDB the Parquet file, pandas the table, Python's own reader the JSON.</summary>
public sealed class OutsideReaderTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("stillwatch-outside-").FullName;

    private static readonly Recording Night = ContractRecordings.Night;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    // DuckDB 1.5.6 by DuckDB.NET; format: Apache Parquet, parquet.thrift and Encodings.md.
    [Fact]
    public void DuckDB_reads_the_rows_of_a_Parquet_file_as_they_are_in_the_recording()
    {
        string path = Write(new ParquetRecordingWriter(), Night);
        var rows = Query($"select channel_number, channel, time_ms, value, \"count\" from read_parquet('{path}') order by channel_number, time_ms");
        var expected = Night.Channels.SelectMany((c, index) => Enumerable.Range(0, c.Times.Count).Select(i => new object?[]
        {
            index + 1, c.Label, c.Times.TimeAt(i).Milliseconds, ValueOf(c, i), c.Counts is { } counts && counts[i] != CountColumn.Missing ? counts[i] : null,
        }));
        Assert.Equal(expected, rows);
    }

    [Fact]
    public void DuckDB_finds_what_no_row_holds_in_the_metadata()
    {
        string path = Write(new ParquetRecordingWriter(), Night);
        var metadata = Query($"select decode(value) from parquet_kv_metadata('{path}') where decode(key) = 'stillwatch.recording'");
        using var header = JsonDocument.Parse((string)metadata.Single()[0]!);
        Assert.Equal("2026-03-01T22:00:00", header.RootElement.GetProperty("start").GetProperty("time").GetString());
        Assert.Equal("SpO2 low", header.RootElement.GetProperty("annotations")[0].GetProperty("text").GetString());
    }

    [Fact]
    public void DuckDB_adds_up_a_recording_of_several_row_groups()
    {
        var axis = TimeAxis.Even(default, SampleRate.Of(500, 1000), 300_000);
        var counts = new CountColumn.Builder();
        long sum = 0;
        for (int i = 0; i < axis.Count; i++)
        {
            counts.Add(i % 10 == 3 ? CountColumn.Missing : i);
            if (i % 10 != 3) sum += i;
        }

        string path = Write(new ParquetRecordingWriter(), new Recording("n", new RecordingStart.Unknown(), [new Channel("Pleth", ChannelKind.Pleth, "", axis, counts.Build(Calibration.Counts))], SourceAveraging.Unknown, []));
        var row = Query($"select count(*), count(value), cast(sum(\"count\") as bigint), cast(sum(value) as bigint) from read_parquet('{path}')").Single();
        Assert.Equal([300_000L, 270_000L, sum, sum], row);
    }

    [Fact]
    public void Pandas_reads_the_table_with_equal_values_and_the_same_gaps()
    {
        var columns = Outside(Write(new CsvRecordingWriter(), Night));
        Assert.Equal(["time", "SpO2", "Pulse", "Pleth", "Resp"], columns.Select(c => c.Name));
        // One row for each time that any channel has.
        var times = Night.Channels.SelectMany(c => Enumerable.Range(0, c.Times.Count).Select(i => c.Times.TimeAt(i).Milliseconds)).Distinct().Order().ToList();
        Assert.Equal(times.Select(t => new DateTime(2026, 3, 1, 22, 0, 0).AddMilliseconds(t).ToString("yyyy-MM-ddTHH:mm:ss.fff")), columns[0].Cells.Select(c => c.GetString()));
        for (int c = 0; c < Night.Channels.Count; c++)
        {
            var channel = Night.Channels[c];
            var byTime = Enumerable.Range(0, channel.Times.Count).ToDictionary(i => channel.Times.TimeAt(i).Milliseconds, i => ValueOf(channel, i));
            Assert.Equal(times.Select(t => byTime.GetValueOrDefault(t)), columns[c + 1].Cells.Select(Number));
        }
    }

    [Fact]
    public void Pythons_own_reader_reads_the_JSON_with_equal_values()
    {
        var columns = Outside(Write(new JsonRecordingWriter(), Night));
        Assert.Equal(Night.Channels.Select(c => c.Label), columns.Select(c => c.Name));
        for (int c = 0; c < Night.Channels.Count; c++)
        {
            var channel = Night.Channels[c];
            Assert.Equal(Enumerable.Range(0, channel.Times.Count).Select(i => channel.Counts is { } counts ? counts[i] : ValueOf(channel, i)), columns[c].Cells.Select(Number));
        }
    }

    private static double? ValueOf(Channel channel, int row) => channel.Counts is { } counts
        ? counts[row] == CountColumn.Missing ? null : counts.Calibration.ValueOf(counts[row])
        : channel.Values[row] == ValueColumn.Missing ? null : channel.Values[row] / 1e6;

    private static double? Number(JsonElement cell) => cell.ValueKind == JsonValueKind.Null ? null : cell.GetDouble();

    private string Write(IRecordingWriter writer, Recording recording)
    {
        string path = Path.Combine(folder, "night" + writer.Extension);
        File.WriteAllBytes(path, RoundTrip.Bytes(writer, recording));
        return path;
    }

    private static List<object?[]> Query(string sql)
    {
        using var connection = new DuckDBConnection("DataSource=:memory:");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        using var reader = command.ExecuteReader();
        var rows = new List<object?[]>();
        while (reader.Read()) rows.Add([.. Enumerable.Range(0, reader.FieldCount).Select(i => reader.IsDBNull(i) ? null : reader.GetValue(i))]);
        return rows;
    }

    /// <summary>What Python of the system makes of a file; without pandas the test is skipped on a laptop and fails in CI.</summary>
    private static List<(string Name, JsonElement[] Cells)> Outside(string path)
    {
        const string python = "/usr/bin/python3";
        if (!File.Exists(python) || Run(python, "-c", "import pandas").ExitCode != 0)
        {
            if (Environment.GetEnvironmentVariable("CI") == "true") Assert.Fail($"{python} with pandas is missing; on Debian: apt-get install python3-pandas");
            Assert.Skip($"{python} with pandas is not on this machine.");
        }

        var (code, output, error) = Run(python, Path.Combine(Root(), "test", "outside", "read_export.py"), path);
        Assert.True(code == 0, error);
        using var document = JsonDocument.Parse(output);
        return [.. document.RootElement.EnumerateArray().Select(c => (c[0].GetString()!, c[1].EnumerateArray().Select(e => e.Clone()).ToArray()))];
    }

    private static (int ExitCode, string Out, string Error) Run(string program, params string[] arguments)
    {
        using var process = Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true })!;
        var error = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return (process.ExitCode, output, error.Result);
    }

    private static string Root()
    {
        var at = new DirectoryInfo(AppContext.BaseDirectory);
        while (at is not null && !File.Exists(Path.Combine(at.FullName, "Stillwatch.slnx"))) at = at.Parent;
        return at?.FullName ?? throw new InvalidOperationException("The tests do not run inside a checkout.");
    }
}
