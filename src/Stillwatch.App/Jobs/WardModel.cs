using Stillwatch.App.Files;
using Stillwatch.Tuning.Proposals;
using Stillwatch.Tuning.Ward;

namespace Stillwatch.App.Jobs;

/// <summary>One patient's part in the ward's alarm load, and how the settings answered the patient's must-catch events.</summary>
public sealed record WardLine(WardPatient Load, CategoryChoice Category, int MustCatchEvents, int Missed, int Late);

/// <summary>Recordings alike enough to be pooled (rule R14.7), with their load.</summary>
/// <param name="Key">What they have in common.</param>
/// <param name="IsCategoryAssumed">Whether nobody named their category.</param>
/// <param name="Load">Their load.</param>
/// <param name="MustCatchEvents">How many they have.</param>
public sealed record WardGroup(GroupKey Key, bool IsCategoryAssumed, WardLoad Load, int MustCatchEvents);

/// <summary>Where the settings of a ward's replay came from.</summary>
public enum WardSettingsOrigin
{
    /// <summary>--settings: looked at.</summary>
    Given,

    /// <summary>--present: in force at the time.</summary>
    Present,

    /// <summary>Neither was given: each category's preset.</summary>
    Preset,
}

/// <summary>The answer to "What is our alarm load, and who and what causes it?".</summary>
public sealed record WardModel
{
    public required LoadedSet Loaded { get; init; }

    public required IReadOnlyList<TunedRecording> Recordings { get; init; }

    public required IReadOnlyList<string> NotComputable { get; init; }

    public required WardSettingsOrigin Origin { get; init; }

    public required SettingsTally Tally { get; init; }

    /// <summary>The patient with the most physiological signals first.</summary>
    public required IReadOnlyList<WardLine> Patients { get; init; }

    public required IReadOnlyList<WardGroup> Groups { get; init; }

    public bool PatientsAssumed => Assumptions.Patients(Recordings) is not null;

    public WardLoad Load => Tally.Load;

    public int MustCatchEvents => Recordings.Sum(r => r.MustCatch.Count);

    public string OriginInWords => Origin switch
    {
        WardSettingsOrigin.Given => "the settings of --settings",
        WardSettingsOrigin.Present => "the present settings (--present)",
        _ => "each category's preset, for neither --present nor --settings was given",
    };
}
