using Stillwatch.Alarms;
using Stillwatch.App.Files;
using Stillwatch.Conditioning;
using Stillwatch.Oxygenation;
using Stillwatch.Replay;
using Stillwatch.Reports.Model;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.App.Jobs;

/// <summary>What given settings would have signalled in one recording, and how that answers the must-catch events.</summary>
/// <param name="Settings">The settings.</param>
/// <param name="Signals">All signals, physiological and technical, by start.</param>
/// <param name="Answers">One for each must-catch event, in their order.</param>
public sealed record ReplayModel(NamedSettings Settings, IReadOnlyList<ReplayedSignal> Signals, IReadOnlyList<CatchAnswer> Answers)
{
    public IEnumerable<ReplayedSignal> Physiological => Signals.Where(s => s.Condition.IsPhysiological());

    public IEnumerable<ReplayedSignal> Technical => Signals.Where(s => !s.Condition.IsPhysiological());
}

/// <summary>The answer to "What happened?" for one recording; page, JSON and report all show this.</summary>
public sealed record ReviewModel
{
    public required LoadedRecording Loaded { get; init; }

    public required ConditioningSettings Conditioning { get; init; }

    public required ConditionedSource Source { get; init; }

    public required ConditionedSeries SpO2 { get; init; }

    public required ConditionedSeries? PulseRate { get; init; }

    public required RecordingReview Review { get; init; }

    public required MustCatchDefinition Definition { get; init; }

    public required IReadOnlyList<MustCatchEvent> MustCatch { get; init; }

    /// <summary>What the marks of --marks did to the list, in words; empty without marks.</summary>
    public required IReadOnlyList<string> MarkWords { get; init; }

    /// <summary>Null without --settings.</summary>
    public required ReplayModel? Replay { get; init; }

    /// <summary>The replay beside what the monitor itself signalled; null without settings or without a log.</summary>
    public FidelityModel? Fidelity { get; init; }

    /// <summary>That a log is there and was not compared, and why; else null.</summary>
    public string? LogNotCompared { get; init; }
}
