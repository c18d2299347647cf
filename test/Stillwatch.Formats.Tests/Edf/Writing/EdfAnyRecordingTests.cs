using CsCheck;
using Stillwatch.Formats.Edf;
using Stillwatch.Formats.Edf.Writing;
using Stillwatch.Formats.Labels;
using Stillwatch.Formats.Tests.Writing;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Edf.Writing;

/// <summary>Recordings of every shape, those too that EDF+ was not made for: what differs when they come back is what the writer listed, no more and no less; or it refused.</summary>
public class EdfAnyRecordingTests
{
    [Fact]
    public void What_is_not_the_same_after_EDF_is_exactly_what_was_listed() => Try(new EdfRecordingWriter());

    [Fact]
    public void What_is_not_the_same_after_BDF_is_exactly_what_was_listed() => Try(new BdfRecordingWriter());

    private static void Try(IRecordingWriter writer)
    {
        int written = 0;
        long draws = DrawnRecordings.Draws(often: 60);
        // A file without a sample and without a note is not a recording to the reader.
        AnyRecording.All.Where(r => r.Annotations.Count > 0 || r.Channels.Any(c => c.Times.Count > 0)).Where(IsSmall).Sample(recording =>
        {
            using var stream = new MemoryStream();
            IReadOnlyList<ReadIssue> listed;
            try
            {
                listed = writer.Write(recording, stream);
            }
            catch (UnwritableRecordingException e)
            {
                Assert.Contains("JSON", e.WhatHelps, StringComparison.Ordinal);
                Assert.Equal(0, stream.Length);
                return;
            }

            var file = PlainEdf.Read(stream.ToArray());
            var result = new EdfRecordingReader().Read(RecordingSource.Of("night" + writer.Extension, stream.ToArray()), new ReadOptions());
            Assert.DoesNotContain(result.Issues, i => i.Severity == IssueSeverity.Failure);
            Assert.Equal(Said(listed), Differences(recording, file, result));
            Interlocked.Increment(ref written);
        }, iter: draws, print: AnyRecording.Print);
        Assert.True(written > draws / 4, $"only {written} of {draws} could be written");
    }

    // A fast signal that begins an hour late has a place for each sample of that hour: right, and slow to draw by the hundred.
    private static bool IsSmall(Recording recording) => recording.Channels.All(c => c.Times.Count == 0 || c.Times.Rate is not { } rate || rate.Hertz * Math.Abs(c.Times.Last.Seconds) < 200_000);

    // Codes of what cannot come back, each as often as it is met; the others are about what other readers do.
    private static string Said(IReadOnlyList<ReadIssue> listed)
    {
        var said = listed.Where(i => i.Code is not (WriteIssueCodes.RecordSize or WriteIssueCodes.Date)).SelectMany(i => Enumerable.Repeat(i.Code, (int)i.Count));
        return string.Join(' ', said.Order(StringComparer.Ordinal));
    }

    private static string Differences(Recording recording, PlainEdf file, ReadResult result)
    {
        var back = result.Recording!;
        var found = new List<string>();
        long shift = Math.Min(0, recording.Channels.Where(c => c.Times.Count > 0).Select(c => c.Times.First.Milliseconds).DefaultIfEmpty().Min());
        if (shift < 0) found.Add(WriteIssueCodes.Origin);
        Assert.Equal(Earlier(recording.Start, shift), back.Start);
        Assert.Equal(recording.SourceAveraging, back.SourceAveraging);
        CompareNotes(recording, back, shift, found);
        Assert.Equal(recording.Channels.Count, back.Channels.Count);
        for (int c = 0; c < recording.Channels.Count; c++)
            CompareChannels(recording.Channels[c], back.Channels.Single(b => b.Label == file.Signals[c].Label), shift, result.Issues, found);
        return string.Join(' ', found.Order(StringComparer.Ordinal));
    }

    private static RecordingStart Earlier(RecordingStart start, long shift) => start switch
    {
        RecordingStart.Local l => new RecordingStart.Local(l.DateTime.AddMilliseconds(shift)),
        RecordingStart.Zoned z => new RecordingStart.Zoned(z.DateTime.AddMilliseconds(shift)),
        RecordingStart.TimeOfDay t => new RecordingStart.TimeOfDay(t.Time.Add(TimeSpan.FromMilliseconds(shift))),
        _ => start,
    };

    private static void CompareNotes(Recording recording, Recording back, long shift, List<string> found)
    {
        Assert.Equal(recording.Annotations.Count, back.Annotations.Count);
        foreach (var (note, other) in recording.Annotations.Zip(back.Annotations))
        {
            Assert.Equal((note.Time.Milliseconds - shift, note.Length, note.Origin), (other.Time.Milliseconds, other.Length, other.Origin));
            if (note.Text != other.Text) found.Add(WriteIssueCodes.Text);
        }
    }

    private static void CompareChannels(Channel channel, Channel back, long shift, IReadOnlyList<ReadIssue> read, List<string> found)
    {
        if (channel.Label != back.Label) found.Add(WriteIssueCodes.Label);
        else Assert.Equal(channel.Kind, back.Kind);
        if (channel.Unit != back.Unit) found.Add(WriteIssueCodes.Unit);
        Assert.Equal(channel.Times.Count, back.Times.Count);
        if (channel.Times.Count == 0) return;
        Assert.Equal(channel.Times.Period, back.Times.Period);
        if (channel.Times.Rate != back.Times.Rate) found.Add(WriteIssueCodes.Rate);
        else Assert.Equal(channel.Times.IsEven, back.Times.IsEven);
        bool isRounded = false;
        // Percent of which none is above one are taken for fractions, and the reader says so.
        bool isScaled = read.Any(i => i.Code == ChannelIssueCodes.ValueScaled);
        for (int row = 0; row < channel.Times.Count; row++)
        {
            Assert.Equal(channel.Times.TimeAt(row).Milliseconds - shift, back.Times.TimeAt(row).Milliseconds);
            var (before, after) = (Written.ValueAt(channel, row), Written.ValueAt(back, row));
            Assert.Equal(before is null, after is null);
            if (before is null || isScaled) continue;
            // A waveform's counts are on a line of any fineness; what is held in decimals is held to the millionth.
            isRounded |= channel.Counts is not null ? Math.Abs(before.Value - after!.Value) > 1e-15m : Math.Round(before.Value, 6, MidpointRounding.AwayFromZero) != Math.Round(after!.Value, 6, MidpointRounding.AwayFromZero);
        }

        if (isRounded) found.Add(WriteIssueCodes.Rounded);
    }
}
