using Stillwatch.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Replay.Fidelity;

/// <summary>A signal that both have.</summary>
public sealed record MatchedSignal(LoggedSignal Logged, ReplayedSignal Replayed)
{
    /// <summary>Replayed minus logged start.</summary>
    public Duration Difference => Replayed.Start - Logged.Start;
}

/// <summary>A signal that the monitor logged and the replay does not give.</summary>
/// <param name="Signal">Its time is shifted by <see cref="FidelityOptions.Offset"/> already.</param>
/// <param name="Because">What is likely, found by computation; at least one.</param>
public sealed record MissingSignal(LoggedSignal Signal, IReadOnlyList<LikelyReason> Because);

/// <summary>A signal that the replay gives and the log does not have.</summary>
public sealed record ExtraSignal(ReplayedSignal Signal, IReadOnlyList<LikelyReason> Because);

/// <summary>Logged signals of a condition that no replay of this recording can give: in no figure.</summary>
public sealed record NotComparable(AlarmCondition Condition, int Count, string Because);

/// <summary>How a replay of given settings agrees with what the monitor itself logged.</summary>
public sealed record FidelityResult
{
    public required string LogName { get; init; }

    public required FidelityOptions Options { get; init; }

    /// <summary>The time that recording and log both cover: nothing else is counted.</summary>
    public required TimeSlice Span { get; init; }

    /// <summary>The log does not say from when to when it was kept: the whole recording was taken.</summary>
    public required bool IsSpanAssumed { get; init; }

    /// <summary>Null where the log states its span, or no replayed signal lies far before its first line or after its last.</summary>
    public LogLines? Lines { get; init; }

    /// <summary>Why there is no figure; null: there is.</summary>
    public string? WhyNot { get; init; }

    /// <summary>Null where the log holds nothing physiological that can be compared: silence of a log is no agreement.</summary>
    public FidelityFigure? Physiological { get; init; }

    /// <summary>Never put together with <see cref="Physiological"/> (R12).</summary>
    public FidelityFigure? Technical { get; init; }

    /// <summary>By condition, those alone that either has.</summary>
    public IReadOnlyList<(AlarmCondition Condition, FidelityFigure Figure)> Conditions { get; init; } = [];

    public IReadOnlyList<MatchedSignal> Matched { get; init; } = [];

    public IReadOnlyList<MissingSignal> Missing { get; init; } = [];

    public IReadOnlyList<ExtraSignal> Extra { get; init; } = [];

    public IReadOnlyList<NotComparable> NotComparable { get; init; } = [];

    public IReadOnlyList<TextNotUnderstood> NotUnderstood { get; init; } = [];

    /// <summary>Logged signals outside <see cref="Span"/>.</summary>
    public int Outside { get; init; }

    /// <summary>Null where no constant difference of the clocks is clearly better than the one in use.</summary>
    public ClockDifference? Clock { get; init; }

    /// <summary>Single changes of settings that would agree better over all physiological conditions, the best of each setting, the best first, at most three; with <see cref="Clock"/>, those alone that match as many; where <see cref="Lines"/> is there, without the signals far from the log.</summary>
    public IReadOnlyList<ChangeTried> BetterChanges { get; init; } = [];
}
