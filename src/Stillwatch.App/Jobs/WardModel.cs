using Stillwatch.App.Files;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Jobs;

/// <summary>One patient's part in the ward's alarm load, under the settings replayed.</summary>
public sealed record WardPatient
{
    public required string Patient { get; init; }

    public required CategoryChoice Category { get; init; }

    public required int Recordings { get; init; }

    public required Duration Valid { get; init; }

    public required Duration Connected { get; init; }

    public required int Physiological { get; init; }

    public required Duration PhysiologicalActive { get; init; }

    public required int Technical { get; init; }

    public required int MustCatchEvents { get; init; }

    public required int Missed { get; init; }

    public required int Late { get; init; }

    public double? PhysiologicalPerDay => WardModel.PerDay(Physiological, Valid);

    public double? TechnicalPerDay => WardModel.PerDay(Technical, Connected);
}

/// <summary>Recordings alike enough to be pooled (rule R14.7), with their load.</summary>
public sealed record WardGroup(GroupKey Key, int Patients, int Recordings, Duration Valid, Duration Connected, int Physiological, int Technical, int MustCatchEvents)
{
    public double? PhysiologicalPerDay => WardModel.PerDay(Physiological, Valid);

    public double? TechnicalPerDay => WardModel.PerDay(Technical, Connected);
}

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
    public required IReadOnlyList<WardPatient> Patients { get; init; }

    public required IReadOnlyList<WardGroup> Groups { get; init; }

    public int MustCatchEvents => Recordings.Sum(r => r.MustCatch.Count);

    public string OriginInWords => Origin switch
    {
        WardSettingsOrigin.Given => "the settings of --settings",
        WardSettingsOrigin.Present => "the present settings (--present)",
        _ => "each category's preset, for neither --present nor --settings was given",
    };

    internal static double? PerDay(int signals, Duration time) => time > Duration.Zero ? signals * 24 / time.Hours : null;
}
