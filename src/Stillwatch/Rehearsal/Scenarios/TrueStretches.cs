using Stillwatch.Rehearsal.Patients;

namespace Stillwatch.Rehearsal.Scenarios;

/// <summary>Stretches that are read off the truth instead of being written into the script.</summary>
internal static class TrueStretches
{
    private const int AtLeastSeconds = 10;

    /// <summary>True saturation at the site below the category's starting low limit, and, where oxygen is given, above its starting high limit; 10 s or more.</summary>
    public static IEnumerable<TruthEpisode> Of(RehearsalScenario scenario, IReadOnlyList<PatientDrive> drives, IReadOnlyList<PatientMoment> patient)
    {
        double low = (double)scenario.Preset.SpO2LowLimit.Value.Value;
        var stretches = Where(patient.Count, t => patient[t].SiteSaturationPercent < low, TruthKind.TrueSaturationLow);
        if (scenario.Preset.SpO2HighLimit is not { } limit) return stretches;
        double high = (double)limit.Value.Value;
        return stretches.Concat(Where(
            patient.Count, t => patient[t].SiteSaturationPercent > high && drives[t].InhaledOxygenFraction > PatientDrive.Air, TruthKind.TrueSaturationHigh));
    }

    private static IEnumerable<TruthEpisode> Where(int seconds, Func<int, bool> holds, TruthKind kind)
    {
        int start = 0;
        for (int t = 0; t <= seconds; t++)
        {
            if (t < seconds && holds(t)) continue;
            if (t - start >= AtLeastSeconds) yield return new TruthEpisode(kind, ScenarioScript.Slice(start, t));
            start = t + 1;
        }
    }
}
