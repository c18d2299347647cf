using Stillwatch.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Replay;

/// <summary>One alarm signal of a replay, [Start, End).</summary>
/// <param name="Condition">What it is about.</param>
/// <param name="Start">When it started.</param>
/// <param name="End">When it ended; for <see cref="SignalEnding.Lost"/> the instant of the loss, although that was decided later.</param>
/// <param name="Ending">How it ended.</param>
/// <param name="HighestPriority">The highest priority it reached.</param>
/// <param name="Suspensions">Stretches within it when the value was lost: not active there (R9, R13).</param>
public sealed record ReplayedSignal(
    AlarmCondition Condition,
    SampleTime Start,
    SampleTime End,
    SignalEnding Ending,
    AlarmPriority HighestPriority,
    IReadOnlyList<TimeSlice> Suspensions)
{
    /// <summary>When its end was decided: later than <see cref="End"/> only for <see cref="SignalEnding.Lost"/> (R9).</summary>
    public SampleTime EndDecided { get; init; } = End;

    public TimeSlice Span => new(Start, End);

    /// <summary>Its length without the suspensions.</summary>
    public Duration Active => Suspensions.Aggregate(End - Start, (left, s) => left - s.Length);
}
