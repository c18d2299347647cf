using System.Text.Json;
using Stillwatch.Formats.Json;
using Stillwatch.Formats.Parquet;
using Stillwatch.Formats.Tests.Contract;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Writing;

/// <summary>Good recordings for the contract: one of everything, small.</summary>
internal static class ContractRecordings
{
    public static readonly Recording Night = Make(new RecordingStart.Local(new DateTime(2026, 3, 1, 22, 0, 0)), 30);

    public static readonly Recording Short = Make(new RecordingStart.Unknown(), 3);

    private static Recording Make(RecordingStart start, int rows)
    {
        var axis = TimeAxis.Even(default, SampleRate.Of(1, 1000), rows);
        var uneven = new TimeAxis.Builder();
        for (int i = 0; i < rows; i++) uneven.Add(i * 1000 + i * i);
        return new Recording(
            "night", start,
            [
                new Channel("SpO2", ChannelKind.SpO2, "%", axis, ValueColumn.Of(Enumerable.Range(0, rows).Select(i => i % 5 == 2 ? null : (decimal?)(97 - i % 3)))),
                new Channel("Pulse", ChannelKind.PulseRate, "/min", axis, ValueColumn.Of(Enumerable.Range(0, rows).Select(i => (decimal?)(60.5m + i)))),
                new Channel("Pleth", ChannelKind.Pleth, "mV", TimeAxis.Even(default, SampleRate.Of(25, 1000), rows * 25), CountColumn.Of(Calibration.OfGain(200, 3), Enumerable.Range(0, rows * 25).Select(i => (int?)(i * 37 % 500)))),
                new Channel("Resp", ChannelKind.Other, "", uneven.Build(), ValueColumn.Of(Enumerable.Range(0, rows).Select(i => (decimal?)i))),
            ],
            new SourceAveraging(Duration.FromSeconds(8)),
            [new Annotation(new SampleTime(1500), new Duration(2000), "SpO2 low", AnnotationOrigin.Source), new Annotation(new SampleTime(1600), default, "signal", AnnotationOrigin.ReplayedSignal)]);
    }
}

/// <summary>A recording in JSON sits the test of all readers.</summary>
public class JsonContractTests : ReaderContract
{
    protected override IRecordingReader Reader => new JsonRecordingReader();

    protected override IReadOnlyList<ReaderSample> Samples { get; } =
    [
        Sample("a night", ContractRecordings.Night), Sample("three rows", ContractRecordings.Short),
    ];

    protected override int OneReadAmong => 100;

    // The reader refuses what does not add up; what is left reads as it stands: each number as .NET's own reader of documents has it.
    protected override void Account(ReaderSample damaged, ReadResult result)
    {
        using var document = JsonDocument.Parse(damaged.Bytes);
        var written = document.RootElement.GetProperty("channels").EnumerateArray().ToList();
        Assert.NotNull(result.Recording);
        Assert.Equal(written.Count, result.Recording.Channels.Count);
        Assert.All(result.Recording.Channels.Zip(written), pair =>
        {
            var (channel, stated) = pair;
            var counts = channel.Counts;
            var numbers = stated.GetProperty(counts is null ? "values" : "counts").EnumerateArray().ToList();
            Assert.Equal(numbers.Count, channel.Times.Count);
            for (int i = 0; i < numbers.Count; i++)
            {
                decimal? held = counts is not null ? (counts[i] == CountColumn.Missing ? null : counts[i]) : channel.Values[i] == ValueColumn.Missing ? null : channel.Values[i] / 1_000_000m;
                decimal? read = numbers[i].ValueKind == JsonValueKind.Null ? null : numbers[i].GetDecimal();
                Assert.Equal(read is null, held is null);
                Assert.InRange((read ?? 0) - (held ?? 0), -0.0000005m, 0.0000005m); // held to the millionth
            }
        });
    }

    private static ReaderSample Sample(string name, Recording recording)
    {
        byte[] bytes = RoundTrip.Bytes(new JsonRecordingWriter(), recording);
        return ReaderSample.Of(name, "night.json", bytes, bytes.Length);
    }
}

/// <summary>Our Parquet files sit the test of all readers.</summary>
public class ParquetContractTests : ReaderContract
{
    protected override IRecordingReader Reader => new ParquetRecordingReader();

    protected override IReadOnlyList<ReaderSample> Samples { get; } =
    [
        Sample("a night", ContractRecordings.Night), Sample("three rows", ContractRecordings.Short),
    ];

    protected override int OneReadAmong => 50;

    // Every page carries a checksum of its own, so that rows read are rows written; what may differ stands in the metadata.
    protected override void Account(ReaderSample damaged, ReadResult result)
    {
        Assert.NotNull(result.Recording);
        var written = new[] { ContractRecordings.Night, ContractRecordings.Short }.SelectMany(r => r.Channels).Select(SamplesOf).ToHashSet();
        Assert.All(result.Recording.Channels, c => Assert.Contains(SamplesOf(c), written));
    }

    private static string SamplesOf(Channel channel) => string.Join(' ', Enumerable.Range(0, channel.Times.Count).Select(i => channel.Counts?[i] ?? channel.Values[i]));

    private static ReaderSample Sample(string name, Recording recording)
    {
        byte[] bytes = RoundTrip.Bytes(new ParquetRecordingWriter(), recording);
        return ReaderSample.Of(name, "night.parquet", bytes, bytes.Length);
    }
}
