using Stillwatch.Time;

namespace Stillwatch.Signals;

/// <summary>One patient's channels over a span of time, with gaps, from any source.</summary>
/// <param name="Name">A name to show, usually the file's, never a patient's.</param>
/// <param name="Start">What is known of the wall-clock time of the origin.</param>
/// <param name="Channels">The channel to use of each kind first, then the rest, each in the source's order.</param>
/// <param name="SourceAveraging">The source's own averaging, known or unknown.</param>
/// <param name="Annotations">The source's notes with their times, in time order.</param>
public sealed record Recording(
    string Name,
    RecordingStart Start,
    IReadOnlyList<Channel> Channels,
    SourceAveraging SourceAveraging,
    IReadOnlyList<Annotation> Annotations)
{
    /// <summary>The first channel of a kind; null where there is none. Readers put the channel to use first.</summary>
    public Channel? Find(ChannelKind kind) => Channels.FirstOrDefault(c => c.Kind == kind);
}

/// <summary>A note that the source attaches to a moment or a stretch.</summary>
public sealed record Annotation(SampleTime Time, Duration Length, string Text);
