using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.App.Jobs;

/// <summary>A channel in figures, over the numbers present: before any validity rule, so that dropout codes show.</summary>
/// <param name="Channel">The channel.</param>
/// <param name="Samples">Rows.</param>
/// <param name="Present">Rows that hold a number.</param>
/// <param name="Minimum">Null without a number.</param>
/// <param name="Maximum">Null without a number.</param>
/// <param name="Mean">Plain mean of the numbers; null without one.</param>
public sealed record ChannelFacts(Channel Channel, int Samples, int Present, double? Minimum, double? Maximum, double? Mean)
{
    /// <summary>Rows a second, exact where they are even, else from the period of rule R1; null for a channel of fewer than two rows.</summary>
    public double? RateHz => Samples > 1 ? Channel.Times.Rate?.Hertz ?? 1000.0 / Channel.Times.Period.Milliseconds : null;

    public static ChannelFacts Of(Channel channel)
    {
        int present = 0;
        double least = double.PositiveInfinity, most = double.NegativeInfinity, sum = 0;
        var buffer = new double[TimeAxis.ChunkLength];
        for (int c = 0; c < channel.Times.ChunkCount; c++)
        {
            int length = channel.CopyValues(c, buffer);
            foreach (double value in buffer.AsSpan(0, length))
            {
                if (double.IsNaN(value)) continue;
                present++;
                sum += value;
                least = Math.Min(least, value);
                most = Math.Max(most, value);
            }
        }

        return present == 0
            ? new ChannelFacts(channel, channel.Times.Count, 0, null, null, null)
            : new ChannelFacts(channel, channel.Times.Count, present, least, most, sum / present);
    }
}

/// <summary>A text that stands at one or more notes of the source.</summary>
public sealed record NoteText(string Text, int Count)
{
    public static IReadOnlyList<NoteText> Of(Recording recording) =>
    [
        .. recording.Annotations.Where(a => a.Origin == AnnotationOrigin.Source).GroupBy(a => a.Text, StringComparer.Ordinal)
            .Select(g => new NoteText(g.Key, g.Count())).OrderByDescending(t => t.Count),
    ];
}

/// <summary>What is in one file.</summary>
/// <param name="Loaded">The recording.</param>
/// <param name="Channels">In its order.</param>
/// <param name="NoteTexts">The texts of the source's notes, the commonest first, then in the order of their times.</param>
public sealed record InspectedRecording(LoadedRecording Loaded, IReadOnlyList<ChannelFacts> Channels, IReadOnlyList<NoteText> NoteTexts)
{
    /// <summary>From the first row of any channel to the last one's end; without channels, from the origin to the end of the last note.</summary>
    public Duration Length
    {
        get
        {
            var filled = Loaded.Recording.Channels.Where(c => c.Times.Count > 0).Select(c => c.Times).ToList();
            if (filled.Count > 0) return filled.Max(t => t.End) - filled.Min(t => t.First);
            var notes = Loaded.Recording.Annotations;
            return notes.Count == 0 ? Duration.Zero : notes.Max(n => n.Time + n.Length) - default(SampleTime);
        }
    }
}

/// <summary>The answer to "What is in these files?".</summary>
public sealed record InspectModel(IReadOnlyList<InspectedRecording> Recordings, IReadOnlyList<UnreadableFile> Unreadable)
{
    public static InspectModel Of(IReadOnlyList<LoadedRecording> loaded, IReadOnlyList<UnreadableFile> unreadable) =>
        new([.. loaded.Select(l => new InspectedRecording(l, [.. l.Recording.Channels.Select(ChannelFacts.Of)], NoteText.Of(l.Recording)))], unreadable);
}
