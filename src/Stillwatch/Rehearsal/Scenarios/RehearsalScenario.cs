using Stillwatch.Alarms;
using Stillwatch.Rehearsal.Patients;
using Stillwatch.Signals;

namespace Stillwatch.Rehearsal.Scenarios;

/// <summary>A story with a lesson: an invented patient, what happens to patient and sensor, and what staff may learn from it.</summary>
/// <remarks>Invented throughout. <see cref="Caution"/> goes wherever a scenario is shown.</remarks>
public sealed record RehearsalScenario
{
    /// <summary>To be shown with every scenario.</summary>
    public const string Caution =
        "Rehearsal: an invented, simplified patient for teaching and for tests. Not a physiological reference, not a model of any real patient. "
        + "Local policy, the prescription and licensed clinicians decide.";

    /// <summary>The name in commands: small letters and hyphens.</summary>
    public required string Name { get; init; }

    public required string Title { get; init; }

    /// <summary>What happens, in plain sentences.</summary>
    public required string Story { get; init; }

    /// <summary>Three to five plain sentences for staff; the tests hold them against the scenario's numbers.</summary>
    public required IReadOnlyList<string> LearningPoints { get; init; }

    /// <summary>The category with its starting settings.</summary>
    public required CategoryPreset Preset { get; init; }

    public required PatientParameters Patient { get; init; }

    public required int DurationSeconds { get; init; }

    /// <summary>Over how long the invented monitor averages.</summary>
    public int AveragingSeconds { get; init; } = 8;

    /// <summary>Invented wall-clock time of the beginning.</summary>
    public TimeOnly StartsAt { get; init; } = new(22, 0);

    /// <summary>What the patient breathes for most of the time: "air" or "oxygen".</summary>
    public string Oxygen { get; init; } = "air";

    internal Action<ScenarioScript> Write { get; init; } = static _ => { };

    public PatientCategory Category => Preset.Category;

    /// <summary>The whole scenario; the same seed gives the same run to the last digit.</summary>
    /// <param name="seed">Where all chance comes from.</param>
    public RehearsalRun Run(ulong seed) => Run(seed, DurationSeconds);

    /// <summary>Its first seconds only: bit-equal to the beginning of the whole.</summary>
    /// <param name="seed">Where all chance comes from.</param>
    /// <param name="seconds">Above 0; more than there is gives the whole.</param>
    public RehearsalRun Run(ulong seed, int seconds)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(seconds, 1);
        // The script is always written whole, so that a cut draws the same chance; only the cut is lived through.
        var script = new ScenarioScript(Patient, DurationSeconds, Chance(seed, 1));
        Write(script);
        return RehearsalRun.Of(this, seed, script, Math.Min(seconds, DurationSeconds));
    }

    /// <summary>A source of chance of this scenario's own.</summary>
    internal SeededRandom Chance(ulong seed, int part)
    {
        int[] path = [.. Name.Select(letter => (int)letter), part];
        return SeededRandom.For(seed, path);
    }
}
