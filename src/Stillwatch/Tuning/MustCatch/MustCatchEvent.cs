using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Tuning.MustCatch;

/// <summary>One line of a must-catch definition (R13): "≤ 85 % for ≥ 60 s".</summary>
/// <param name="Level">S.</param>
/// <param name="Inclusive">True: value ≤ S; false: value &lt; S.</param>
/// <param name="AtLeast">T, inclusive; also the time within which a signal must be active.</param>
public sealed record MustCatchLine(Percent Level, bool Inclusive, Duration AtLeast)
{
    public override string ToString() => $"{(Inclusive ? "≤" : "<")} {Level.Value:0.###} % for ≥ {AtLeast.Seconds:0.###} s";
}

/// <summary>The must-catch definition in force and where it comes from ("unit policy, no source").</summary>
public sealed record MustCatchDefinition(string Name, IReadOnlyList<MustCatchLine> Lines, string Source);

/// <summary>One reason why an event must be caught, with its own onset and deadline.</summary>
/// <param name="Onset">The first sample that meets the line.</param>
/// <param name="End">First instant after it.</param>
/// <param name="Within">T: in time means a signal active at some instant of [Onset, Onset + T].</param>
/// <param name="Because">The line in words, or "marked significant".</param>
public sealed record MustCatchPart(SampleTime Onset, SampleTime End, Duration Within, string Because);

/// <summary>
/// An event that settings are not allowed to miss. Parts that overlap (a deep dip inside a long one) are one event, so that
/// one hypoxaemia does not count twice in a bound; settings must answer for each part, and the worst verdict is the event's.
/// </summary>
public sealed record MustCatchEvent(SampleTime Onset, SampleTime End, Percent Nadir, IReadOnlyList<MustCatchPart> Parts);

/// <summary>What settings make of a must-catch event (R13), from best to worst.</summary>
public enum CatchVerdict
{
    InTime,

    /// <summary>First active after onset + T, before the event's end.</summary>
    Late,
    Missed,
}
