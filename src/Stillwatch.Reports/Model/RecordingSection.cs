using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Oxygenation;
using Stillwatch.Replay;
using Stillwatch.Replay.Fidelity;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Reports.Model;

/// <summary>One recording with all that was found in it.</summary>
public sealed record RecordingSection
{
    public required Recording Recording { get; init; }

    public PatientCategory Category { get; init; }

    /// <summary>Nobody named a category and an adult was taken: the report says so and warns.</summary>
    public bool IsCategoryAssumed { get; init; }

    /// <summary>SpO2 as compared: after validity rules, averaging, hold and rounding. Null where the recording has no SpO2.</summary>
    public required ConditionedSeries? SpO2 { get; init; }

    /// <summary>Null where the recording has no pulse rate.</summary>
    public ConditionedSeries? PulseRate { get; init; }

    /// <summary>Validity, averaging, hold and rounding behind <see cref="SpO2"/>.</summary>
    public ConditioningSettings Conditioning { get; init; } = ConditioningSettings.Default;

    /// <summary>Null where nothing could be computed.</summary>
    public required RecordingReview? Review { get; init; }

    /// <summary>The settings in force, or those tried in their place (<see cref="ReplayedName"/>); null: none were given, and no limits are drawn.</summary>
    public AlarmSettings? PresentSettings { get; init; }

    /// <summary>Name of <see cref="PresentSettings"/> where they were never in force but only tried on this recording; null: they are the present ones.</summary>
    public string? ReplayedName { get; init; }

    /// <summary>All signals, physiological and technical, of a replay under <see cref="PresentSettings"/>; null: not replayed.</summary>
    public IReadOnlyList<ReplayedSignal>? PresentSignals { get; init; }

    /// <summary>Null: nothing is proposed.</summary>
    public AlarmSettings? ProposedSettings { get; init; }

    /// <summary>The same under <see cref="ProposedSettings"/>; null: not replayed.</summary>
    public IReadOnlyList<ReplayedSignal>? ProposedSignals { get; init; }

    /// <summary>The events that settings are not allowed to miss, in time order, and what became of them.</summary>
    public IReadOnlyList<MustCatchOutcome> MustCatch { get; init; } = [];

    /// <summary>The replay of <see cref="PresentSettings"/> beside what the monitor itself signalled; null: no log was given.</summary>
    public FidelityResult? Fidelity { get; init; }

    /// <summary>What the reader met; worded in plain English by the report.</summary>
    public IReadOnlyList<ReadIssue> Issues { get; init; } = [];
}

/// <summary>A must-catch event and how present and proposed settings answered it; null: not computed.</summary>
public sealed record MustCatchOutcome(
    MustCatchEvent Event,
    CatchAnswer? Present = null,
    CatchAnswer? Proposed = null);

/// <param name="Verdict">In time, late or missed.</param>
/// <param name="TimeToSignal">Onset to signal; zero when already active; null when missed.</param>
public sealed record CatchAnswer(CatchVerdict Verdict, Duration? TimeToSignal);
