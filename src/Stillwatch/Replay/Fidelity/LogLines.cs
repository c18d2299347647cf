using Stillwatch.Time;

namespace Stillwatch.Replay.Fidelity;

/// <summary>
/// A log that does not say from when to when it was kept may have begun later than the recording or ended earlier. What the replay gives so long before
/// its first line, or after its last, may then be no difference at all: the figure without it stands beside the one over the whole recording.
/// </summary>
/// <param name="First">The first line of the log, understood or not.</param>
/// <param name="Last">Its last line.</param>
/// <param name="Before">Replayed signals without a pair before the first line; 0 where none lies so far before it that the log may have begun later.</param>
/// <param name="After">The same after the last line.</param>
/// <param name="Physiological">The figure without them; null where the log holds nothing physiological that can be compared.</param>
/// <param name="Technical">Never put together with it (R12).</param>
public sealed record LogLines(SampleTime First, SampleTime Last, int Before, int After, FidelityFigure? Physiological, FidelityFigure? Technical)
{
    /// <summary>Farther from the log than this, a replayed signal may lie where no log was kept. Unit policy, no source.</summary>
    public static readonly Duration Far = new(30 * 60_000);

    internal static bool IsFarBefore(SampleTime time, SampleTime first) => time < first - Far;

    internal static bool IsFarAfter(SampleTime time, SampleTime last) => time > last + Far;

    /// <summary>The part of a span in which the log was kept for certain; null where no replayed signal without a pair lies far from the log.</summary>
    internal static TimeSlice? Within(TimeSlice span, SampleTime first, SampleTime last, IReadOnlyCollection<ConditionMatch> matches, Duration tolerance)
    {
        var extras = matches.SelectMany(m => m.Extra).Select(e => e.Start).ToList();
        bool isCutBefore = extras.Exists(e => IsFarBefore(e, first)), isCutAfter = extras.Exists(e => IsFarAfter(e, last));
        if (!isCutBefore && !isCutAfter) return null;
        // A slice ends before its end; a signal exactly the tolerance after the last line still counts.
        var past = last + tolerance + new Duration(1);
        return new TimeSlice(isCutBefore && first - tolerance > span.Start ? first - tolerance : span.Start, isCutAfter && past < span.End ? past : span.End);
    }
}
