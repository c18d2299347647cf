using CsCheck;
using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Json;
using Stillwatch.Formats.Parquet;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Writing;

/// <summary>Reading our own export gives back the recording: every channel, time, value, count, annotation, and what is known of the start.</summary>
public class WritingPropertyTests
{
    private static readonly long Iterations = Environment.GetEnvironmentVariable("STILLWATCH_FULL") == "1" ? 20_000 : 1_000;

    public static readonly TheoryData<string> Extensions = [".csv", ".parquet", ".json"];

    [Theory]
    [MemberData(nameof(Extensions))]
    public void What_is_written_is_read_back_whole(string extension)
    {
        var writer = RecordingWriters.For("night" + extension)!;
        AnyRecording.All.Sample(recording =>
        {
            var result = RoundTrip.Of(writer, recording);
            Assert.Equal(AnyRecording.Print(recording), AnyRecording.Print(result.Recording!));
            Assert.Empty(result.Issues);
        }, iter: Iterations, print: AnyRecording.Print);
    }

    [Theory]
    [MemberData(nameof(Extensions))]
    public void A_recording_longer_than_any_part_that_is_handled_at_once_is_read_back_whole(string extension)
    {
        // Beyond a chunk of the axis (8 192 rows), a row group of a Parquet file (131 072) and the buffer of the JSON reader (64 kB).
        var axis = TimeAxis.Even(default, SampleRate.Of(300, 1000), 140_000);
        var counts = new CountColumn.Builder();
        for (int i = 0; i < axis.Count; i++) counts.Add(i % 1000 == 0 ? CountColumn.Missing : i * 37 % 60_000 - 30_000);
        var uneven = new TimeAxis.Builder();
        var values = new ValueColumn.Builder();
        for (int i = 0; i < 20_000; i++)
        {
            uneven.Add(i * 1000 + i % 7);
            values.Add(i % 100 == 0 ? ValueColumn.Missing : 90_000_000 + i);
        }

        var recording = new Recording(
            "night", new RecordingStart.Local(new DateTime(2026, 3, 1, 22, 0, 0)),
            [new Channel("SpO2", ChannelKind.SpO2, "%", uneven.Build(), values.Build()), new Channel("Pleth", ChannelKind.Pleth, "mV", axis, counts.Build(Calibration.OfGain(200, 0)))],
            SourceAveraging.Unknown, []);
        Assert.Equal(AnyRecording.Print(recording), AnyRecording.Print(RoundTrip.Of(RecordingWriters.For("night" + extension)!, recording).Recording!));
    }

    [Theory]
    [InlineData("night.CSV", typeof(CsvRecordingWriter))]
    [InlineData("night.parquet", typeof(ParquetRecordingWriter))]
    [InlineData("a.csv.json", typeof(JsonRecordingWriter))]
    [InlineData("night.docx", null)]
    [InlineData("night", null)]
    public void A_writer_is_chosen_by_the_ending_of_the_file(string name, Type? writer) => Assert.Equal(writer, RecordingWriters.For(name)?.GetType());
}
