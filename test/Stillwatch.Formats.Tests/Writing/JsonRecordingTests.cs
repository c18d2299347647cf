using System.Text;
using Stillwatch.Formats.Json;
using Stillwatch.Formats.Parquet;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Writing;

/// <summary>What a recording in JSON must say, and what is said of one that does not; and of Parquet files that claim too much.</summary>
public class JsonRecordingTests
{
    private const string Good = """
        {"format":"stillwatch.recording/1","start":{"kind":"local","time":"2026-03-01T22:00:00.5"},"sourceAveragingMilliseconds":8000,"channels":[
        {"label":"SpO2","kind":"spo2","unit":"%","axis":{"count":3,"firstMilliseconds":0,"samples":1,"milliseconds":1000,"periodDeclared":false},"values":[97,null,96.5]},
        {"label":"Pleth","kind":"pleth","unit":"mV","calibration":{"origin":0,"offset":"0","numerator":"1","denominator":"200"},"axis":{"count":2,"periodMilliseconds":null},"times":[0,8],"counts":[12,-7]}],
        "annotations":[{"milliseconds":1500,"lengthMilliseconds":0,"text":"SpO2 low","origin":"source"}]}
        """;

    [Fact]
    public void The_document_of_the_page_on_files_reads_as_it_says()
    {
        var recording = Read(Good).Recording!;
        Assert.Equal(new RecordingStart.Local(new DateTime(2026, 3, 1, 22, 0, 0, 500)), recording.Start);
        Assert.Equal(8, recording.SourceAveraging.Window!.Value.Seconds);
        Assert.Equal([97_000_000, ValueColumn.Missing, 96_500_000], Enumerable.Range(0, 3).Select(i => recording.Channels[0].Values[i]));
        Assert.Equal(0.06, recording.Channels[1].Counts!.Calibration.ValueOf(recording.Channels[1].Counts![0]), 12);
        Assert.Equal(new Annotation(new SampleTime(1500), default, "SpO2 low", AnnotationOrigin.Source), recording.Annotations.Single());
        Assert.Equal(Contract.Printed.Whole(recording), Contract.Printed.Whole(Read("\uFEFF  " + Good).Recording!));
    }

    [Theory]
    [InlineData("\"count\":3", "\"count\":2147483647", "3 rows")]
    [InlineData("\"count\":3", "\"count\":2147483648", "2147483648")]
    [InlineData("\"count\":3", "\"count\":-1", "-1")]
    [InlineData("97,null", "97,98,null", "4 rows")]
    [InlineData("97,null", "2148,null", "2148")]
    [InlineData("97,null", "97.0000001,null", "97.0000001")]
    [InlineData("97,null", "\"97\",null", "\"97\"")]
    [InlineData("97,null", "1e400,null", "1e400")]
    [InlineData("97,null", "[],null", "a list")]
    [InlineData("\"kind\":\"spo2\"", "\"kind\":\"sp02\"", "sp02")]
    [InlineData("\"unit\":\"%\"", "\"units\":\"%\"", "units")]
    [InlineData("\"label\":\"SpO2\"", "\"label\":\"SpO2\",\"label\":\"x\"", "a second time")]
    [InlineData("[0,8]", "[8,0]", "0 ms after")]
    [InlineData("[0,8]", "[0]", "1 times")]
    [InlineData("\"denominator\":\"200\"", "\"denominator\":\"0\"", "denominator 0")]
    [InlineData("\"denominator\":\"200\"", "\"denominator\":200", "200")]
    [InlineData("\"kind\":\"pleth\"", "\"kind\":\"pulseRate\"", "counts for pulseRate")]
    [InlineData("\"origin\":\"source\"", "\"origin\":\"somebody\"", "somebody")]
    [InlineData("\"time\":\"2026-03-01T22:00:00.5\"", "\"time\":\"2026-02-30T22:00:00\"", "2026-02-30")]
    [InlineData("\"samples\":1,", "\"samples\":0,", "0")]
    [InlineData("\"firstMilliseconds\":0", "\"firstMilliseconds\":9000000000000000", "9000000000000000")]
    [InlineData("\"periodDeclared\":false", "\"asChannel\":0", "neither even")]
    [InlineData("stillwatch.recording/1", "stillwatch.recording/2", "stillwatch.recording/2")]
    [InlineData("stillwatch.recording/1", "stillwatch.ward/1", "stillwatch.ward/1")]
    [InlineData("\"annotations\"", "\"notes\"", "notes")]
    [InlineData("}]}", "}]}{}", "after")]
    [InlineData("}]}", "}]", "")]
    public void What_does_not_add_up_is_refused_in_plain_words(string good, string bad, string found)
    {
        Assert.Contains(good, Good, StringComparison.Ordinal);
        int at = Good.LastIndexOf(good, StringComparison.Ordinal);
        if (good.StartsWith("\"count\"", StringComparison.Ordinal) || good.StartsWith("\"denom", StringComparison.Ordinal)) at = Good.IndexOf(good, StringComparison.Ordinal);
        var error = Assert.Throws<UnreadableFileException>(() => Read(Good[..at] + bad + Good[(at + good.Length)..]));
        Assert.Contains(found, error.Found, StringComparison.Ordinal);
        Assert.StartsWith("night.json", error.Where, StringComparison.Ordinal);
        Assert.NotEqual("", error.LikelyCause);
    }

    [Fact]
    public void A_text_without_an_end_is_not_gathered_without_end()
    {
        byte[] endless = [.. "{\"format\":\""u8, .. Enumerable.Repeat((byte)'a', 3_000_000)];
        long before = GC.GetAllocatedBytesForCurrentThread();
        Assert.Throws<UnreadableFileException>(() => Read(endless));
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 8_000_000);
    }

    [Fact]
    public void A_page_of_a_Parquet_file_that_claims_to_unfold_to_much_is_refused_before_anything_is_allocated_for_it()
    {
        var axis = TimeAxis.Even(default, Duration.FromSeconds(1), 131_072);
        var values = new ValueColumn.Builder();
        for (int i = 0; i < axis.Count; i++) values.Add(97_000_000);
        byte[] file = RoundTrip.Bytes(new ParquetRecordingWriter(), new Recording("n", new RecordingStart.Unknown(), [new Channel("SpO2", ChannelKind.SpO2, "%", axis, values.Build())], SourceAveraging.Unknown, []));
        // The header of the page of times: kind 0, then its length unfolded, 1 048 576, as a zigzag varint of four bytes.
        int at = file.AsSpan().IndexOf(new byte[] { 0x15, 0x00, 0x15, 0x80, 0x80, 0x80, 0x01 });
        Assert.True(at > 0);
        new byte[] { 0xFE, 0xFF, 0xFF, 0x7F }.CopyTo(file, at + 3);
        long before = GC.GetAllocatedBytesForCurrentThread();
        var error = Assert.Throws<UnreadableFileException>(() => new ParquetRecordingReader().Read(RecordingSource.Of("n.parquet", file), new ReadOptions()));
        Assert.Contains("unfold to 134217727", error.Found, StringComparison.Ordinal);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 3_000_000);
    }

    private static ReadResult Read(string text) => Read(Encoding.UTF8.GetBytes(text));

    private static ReadResult Read(byte[] bytes) => new JsonRecordingReader().Read(RecordingSource.Of("night.json", bytes), new ReadOptions());
}
