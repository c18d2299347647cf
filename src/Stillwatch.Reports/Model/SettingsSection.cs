using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Model;

/// <summary>The evidence about settings for one group of like patients: map, loads, front, proposal or refusal.</summary>
public sealed record SettingsSection
{
    /// <summary>The group in words: "Adult" or "Adult, source averaging 8 s, one sample a second".</summary>
    public required string Group { get; init; }

    public PatientCategory Category { get; init; }

    /// <summary>Nobody named a category and an adult was taken.</summary>
    public bool IsCategoryAssumed { get; init; }

    public required int Patients { get; init; }

    public required int Recordings { get; init; }

    /// <summary>Valid time pooled over the group: denominator of physiological load (R12).</summary>
    public required Duration Valid { get; init; }

    /// <summary>Connected time pooled over the group: denominator of technical load (R12).</summary>
    public required Duration Connected { get; init; }

    /// <summary>The source's averaging, shared by the group.</summary>
    public SourceAveraging SourceAveraging { get; init; } = SourceAveraging.Unknown;

    /// <summary>Limits × delays (<see cref="MapPicture.ByDelay"/>); null where no map could be drawn.</summary>
    public required MapPicture? MapByDelay { get; init; }

    /// <summary>Limits × area thresholds (<see cref="MapPicture.ByArea"/>).</summary>
    public MapPicture? MapByArea { get; init; }

    public required MustCatchDefinition MustCatch { get; init; }

    /// <summary>Null: no search was made.</summary>
    public required Proposal? Proposal { get; init; }

    /// <summary>Further settings that were asked about, under the same evidence; without intervals.</summary>
    public IReadOnlyList<NamedEvidence> AskedAbout { get; init; } = [];

    /// <summary>Load under named settings, as bars with intervals. Empty: made from the proposal's present, chosen and best.</summary>
    public IReadOnlyList<LoadRow> Loads { get; init; } = [];
}

/// <summary>Settings that somebody asked about, and what the recordings say of them.</summary>
/// <param name="Name">As their file names them.</param>
/// <param name="Evidence">Of SpO2 low alone, so that it can stand beside present and proposed.</param>
public sealed record NamedEvidence(string Name, CandidateEvidence Evidence);

/// <summary>Alarm load under one named settings set.</summary>
/// <param name="Label">"Present settings", "Proposed", "Proposed, held-out patients".</param>
/// <param name="Settings">The settings in words: "below 88 % for more than 15 s".</param>
/// <param name="SignalsPerDay">Physiological signals per 24 h of valid time, pooled per patient, with its interval.</param>
/// <param name="SignalMinutesPerDay">Minutes of signal per 24 h of valid time; null: not computed.</param>
/// <param name="TechnicalPerDay">Technical signals per 24 h connected: never added to the physiological (R12); null: not computed.</param>
/// <param name="IsAskedAbout">Neither present nor proposed: drawn in a tone of its own.</param>
public sealed record LoadRow(
    string Label,
    string Settings,
    Estimate SignalsPerDay,
    double? SignalMinutesPerDay = null,
    double? TechnicalPerDay = null,
    bool IsAskedAbout = false);
