using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Reports.Model;

/// <summary>Alarm load of a ward and who causes it.</summary>
public sealed record WardSection
{
    /// <summary>One line a patient, any order; the report sorts by present load.</summary>
    public required IReadOnlyList<PatientLoad> Patients { get; init; }

    /// <summary>Physiological signals per patient-day under present settings, pooled per patient.</summary>
    public required double? PresentSignalsPerDay { get; init; }

    /// <summary>The same with each group's proposal in force (refused groups keep their present settings); null: nothing proposed.</summary>
    public double? ProposedSignalsPerDay { get; init; }

    /// <summary>Technical signals per patient-day connected; null: not computed.</summary>
    public double? TechnicalPerDay { get; init; }

    /// <summary>What the "present" signals were counted under, for sentences: where no settings in force were given, it is others.</summary>
    public string SettingsInWords { get; init; } = "present settings";
}

/// <summary>One patient's part in the load.</summary>
/// <param name="Patient">A pseudonym, never a name.</param>
/// <param name="Category">The patient's category.</param>
/// <param name="Recordings">How many recordings.</param>
/// <param name="Valid">Valid time.</param>
/// <param name="Connected">Connected time.</param>
/// <param name="PresentSignals">Physiological signals under present settings; null: none were given.</param>
/// <param name="ProposedSignals">The same under the proposal; null: nothing proposed for this patient's group.</param>
/// <param name="TechnicalSignals">Technical signals; null: not computed.</param>
/// <param name="MustCatchEvents">How many must-catch events.</param>
/// <param name="IsCategoryAssumed">Nobody named a category: adult was taken.</param>
public sealed record PatientLoad(
    string Patient,
    PatientCategory Category,
    int Recordings,
    Duration Valid,
    Duration Connected,
    long? PresentSignals,
    long? ProposedSignals,
    long? TechnicalSignals,
    int MustCatchEvents,
    bool IsCategoryAssumed = false);
