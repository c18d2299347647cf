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

/// <summary>A note that is attached to a moment or a stretch.</summary>
/// <param name="Time">When it begins.</param>
/// <param name="Length">Zero for a moment.</param>
/// <param name="Text">As the source has it.</param>
/// <param name="Origin">Whose it is: what Stillwatch computed and wrote into an export is never mistaken for the source's word.</param>
public sealed record Annotation(SampleTime Time, Duration Length, string Text, AnnotationOrigin Origin = AnnotationOrigin.Source);

/// <summary>Who made a note.</summary>
public enum AnnotationOrigin
{
    /// <summary>The monitor, the recorder or the person at it.</summary>
    Source,

    /// <summary>A desaturation or must-catch event that was found in the values.</summary>
    Event,

    /// <summary>An alarm signal of replayed settings.</summary>
    ReplayedSignal,

    /// <summary>A reviewer's mark.</summary>
    ReviewMark,

    /// <summary>What Stillwatch says of numbers that it derived from light itself.</summary>
    Derived,
}
