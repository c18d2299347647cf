using Stillwatch.App.Files;
using Stillwatch.Conditioning;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;
using Stillwatch.Tuning.Ward;

namespace Stillwatch.App.Jobs;

/// <summary>One recording ready for replay and search.</summary>
/// <param name="Loaded">The recording.</param>
/// <param name="Evidence">The same as the search wants it.</param>
/// <param name="MarkWords">What review marks did to its must-catch events.</param>
public sealed record TunedRecording(LoadedRecording Loaded, TuningRecording Evidence, IReadOnlyList<string> MarkWords)
{
    /// <summary>The SpO2 column in use, and of how many.</summary>
    public string ChannelWords => ReviewJob.ChannelWords(Loaded, Evidence.SpO2);

    public MustCatchDefinition Definition => Evidence.Definition;

    public IReadOnlyList<MustCatchEvent> MustCatch => Evidence.MustCatch;
}

/// <summary>What named settings would have signalled over all recordings, each under the set for its patient's category.</summary>
public sealed record SettingsTally
{
    /// <summary>The sets that were used.</summary>
    public required IReadOnlyList<NamedSettings> Sets { get; init; }

    /// <summary>One for each recording, in order.</summary>
    public required IReadOnlyList<ReplayModel> Replays { get; init; }

    /// <summary>Physiological per valid time, technical per time connected; never added together (R12).</summary>
    public required WardLoad Load { get; init; }

    public IEnumerable<Reports.Model.CatchAnswer> Answers => Replays.SelectMany(r => r.Answers);

    public int Missed => Answers.Count(a => a.Verdict == CatchVerdict.Missed);

    public int Late => Answers.Count(a => a.Verdict == CatchVerdict.Late);

    public Duration? WorstTimeToSignal => Answers.Max(a => a.TimeToSignal);
}

/// <summary>One group of like recordings with its map and its proposal or refusal (rule R14.7).</summary>
/// <param name="Key">What the group has in common.</param>
/// <param name="Category">The category's name and whether it was assumed.</param>
/// <param name="Recordings">Its recordings.</param>
/// <param name="Map">The sum of their maps.</param>
/// <param name="Search">Proposal or refusal with its evidence.</param>
public sealed record TunedGroup(GroupKey Key, CategoryChoice Category, IReadOnlyList<TunedRecording> Recordings, SettingsMap Map, GroupProposal Search)
{
    public int Patients => Recordings.Select(r => r.Loaded.Patient).Distinct().Count();
}

/// <summary>The answer to "Which settings?"; page, JSON and report all show this.</summary>
public sealed record TuneModel
{
    public required LoadedSet Loaded { get; init; }

    public required IReadOnlyList<TunedRecording> Recordings { get; init; }

    /// <summary>Files in which nothing can be computed, and why.</summary>
    public required IReadOnlyList<string> NotComputable { get; init; }

    public required ConditioningSettings Conditioning { get; init; }

    /// <summary>The sum over all recordings, whatever their group: to look at, not to propose from.</summary>
    public required SettingsMap Map { get; init; }

    /// <summary>In the order in which their first recordings were named.</summary>
    public required IReadOnlyList<TunedGroup> Groups { get; init; }

    /// <summary>Null without --present.</summary>
    public required SettingsTally? Present { get; init; }

    /// <summary>Null without --settings.</summary>
    public required SettingsTally? Given { get; init; }

    /// <summary>The replay of --present beside what the monitors themselves signalled; null where no recording has a log, or without --present.</summary>
    public TuneFidelity? Fidelity { get; init; }

    /// <summary>That logs are there and were not compared, and why; else null.</summary>
    public string? LogNotCompared { get; init; }

    public int Patients => Recordings.Select(r => r.Loaded.Patient).Distinct().Count();

    /// <summary>Whether, among several recordings, some were taken as a patient each because nothing says whose they are.</summary>
    public bool PatientsAssumed => Assumptions.Patients(Recordings) is not null;

    public Duration Monitored => Map.Connected;
}
