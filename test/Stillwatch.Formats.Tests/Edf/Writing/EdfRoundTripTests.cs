using CsCheck;
using Stillwatch.Formats.Edf;
using Stillwatch.Formats.Edf.Writing;
using Stillwatch.Formats.Labels;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Edf.Writing;

/// <summary>What we write, our own reader reads back to the same recording; what is not the same was listed by the writer.</summary>
public class EdfRoundTripTests
{
    [Fact]
    public void Import_of_our_own_EDF_is_lossless() => ReadBack(new EdfRecordingWriter());

    [Fact]
    public void Import_of_our_own_BDF_is_lossless() => ReadBack(new BdfRecordingWriter());

    [Fact]
    public void A_file_written_again_after_reading_is_the_same_byte_for_byte()
    {
        var recording = Written.Of(
            Written.SpO2(Written.Times(0, 1000, 2000, 9000, 10_000), 97.5m, null, 96, 95, 94),
            Written.Pleth(SampleRate.Of(125, 1000), Calibration.OfRange(-2048, 2047, -5, 5), [.. Enumerable.Range(0, 1300).Select(i => (int?)(i * 7 % 4000 - 2000))])) with
        {
            Start = new RecordingStart.Zoned(new DateTimeOffset(2026, 3, 1, 22, 15, 30, 250, TimeSpan.FromHours(2))),
            SourceAveraging = new SourceAveraging(new Duration(8000)),
            Annotations = [new Annotation(new SampleTime(1500), new Duration(2000), "artefact?"), new Annotation(new SampleTime(9000), Duration.Zero, "SpO2 low", AnnotationOrigin.ReplayedSignal)],
        };
        byte[] first = Bytes(new EdfRecordingWriter(), recording, out var issues);
        var result = new EdfRecordingReader().Read(RecordingSource.Of("a.edf", first), new ReadOptions());
        Assert.Empty(issues);
        Assert.DoesNotContain(result.Issues, i => i.Severity != IssueSeverity.Note);
        Assert.DoesNotContain(result.Issues, i => i.Code == EdfIssueCodes.HeaderIdentification);
        Assert.Equal(first, Bytes(new EdfRecordingWriter(), result.Recording!, out _));
    }

    private static void ReadBack(IRecordingWriter writer)
    {
        int read = 0;
        DrawnRecordings.Any.Where(r => r.Channels.Any(c => c.Times.Count > 0)).Sample(recording =>
        {
            byte[] bytes;
            IReadOnlyList<ReadIssue> issues;
            try
            {
                bytes = Bytes(writer, recording, out issues);
            }
            catch (UnwritableRecordingException)
            {
                return;
            }

            var result = new EdfRecordingReader().Read(RecordingSource.Of("test" + writer.Extension, bytes), new ReadOptions());
            Compare(recording, issues, PlainEdf.Read(bytes), result);
            Interlocked.Increment(ref read);
        }, iter: DrawnRecordings.Draws(often: 200), print: DrawnRecordings.Print);
        Assert.True(read > 100, $"only {read} could be written");
    }

    private static void Compare(Recording recording, IReadOnlyList<ReadIssue> issues, PlainEdf file, ReadResult result)
    {
        var back = result.Recording!;
        Assert.Equal(recording.Start, back.Start);
        Assert.Equal(recording.Annotations, back.Annotations);
        Assert.Equal(recording.Channels.Count, back.Channels.Count);
        Assert.DoesNotContain(result.Issues, i => i.Severity == IssueSeverity.Failure);
        string[] ofTheRecording = [ChannelIssueCodes.ChannelNoSpO2, ChannelIssueCodes.ValueScaled, ChannelIssueCodes.ValueScaleUnclear];
        Assert.All(result.Issues.Where(i => i.Severity == IssueSeverity.Doubt), i => Assert.Contains(i.Code, ofTheRecording));
        for (int c = 0; c < recording.Channels.Count; c++) Compare(recording.Channels[c], back.Channels.Single(b => b.Label == file.Signals[c].Label), issues, result.Issues);
    }

    private static void Compare(Channel channel, Channel back, IReadOnlyList<ReadIssue> written, IReadOnlyList<ReadIssue> read)
    {
        Assert.Equal(channel.Kind, back.Kind);
        bool IsListed(string code) => written.Any(i => i.Code == code && i.Place.Contains(channel.Label, StringComparison.Ordinal));
        if (!IsListed(WriteIssueCodes.Unit)) Assert.Equal(channel.Unit, back.Unit);
        Assert.Equal(channel.Times.Count, back.Times.Count);
        if (channel.Times.Count == 0) return;
        Assert.Equal(channel.Times.Period, back.Times.Period);
        Assert.Equal(channel.Times.IsEven, back.Times.IsEven);
        if (!IsListed(WriteIssueCodes.Rate)) Assert.Equal(channel.Times.Rate, back.Times.Rate);
        bool isScaled = read.Any(i => i.Code is ChannelIssueCodes.ValueScaled); // percent below one, taken for fractions: another test
        for (int row = 0; row < channel.Times.Count; row++)
        {
            Assert.Equal(channel.Times.TimeAt(row), back.Times.TimeAt(row));
            var (before, after) = (Written.ValueAt(channel, row), Written.ValueAt(back, row));
            Assert.Equal(before is null, after is null);
            if (before is null || IsListed(WriteIssueCodes.Rounded) || isScaled) continue;
            if (channel.Counts is not null) Assert.Equal(channel.Counts[row], back.Counts![row]);
            Assert.Equal(Math.Round(before.Value, 6, MidpointRounding.AwayFromZero), Math.Round(after!.Value, 6, MidpointRounding.AwayFromZero));
        }
    }

    private static byte[] Bytes(IRecordingWriter writer, Recording recording, out IReadOnlyList<ReadIssue> issues)
    {
        using var stream = new MemoryStream();
        issues = writer.Write(recording, stream);
        return stream.ToArray();
    }
}
