namespace Stillwatch.Rehearsal.Patients;

/// <summary>Lives through drives, second by second, and says what is true in each.</summary>
/// <remarks>
/// Oxygen and carbon dioxide move in small steps within a second; chance (wander of pulse and perfusion) is drawn once a second, so that the
/// step's size changes no draw. A rehearsal is simplified and teaches the shape of things; it is no physiological reference.
/// </remarks>
public static class InventedPatient
{
    private const double StepSeconds = 0.1;

    /// <summary>The truth of each second, at its end. It begins in the steady state of the first drive.</summary>
    /// <param name="patient">What the patient is made of.</param>
    /// <param name="drives">One a second.</param>
    /// <param name="random">Used for the wander of pulse rate and perfusion alone.</param>
    /// <exception cref="ArgumentException">The first drive moves no air, or too little oxygen to live on.</exception>
    public static IReadOnlyList<PatientMoment> Live(PatientParameters patient, IReadOnlyList<PatientDrive> drives, SeededRandom random) =>
        Live(patient, drives, random, stepsPerSecond: (int)(1 / StepSeconds));

    internal static IReadOnlyList<PatientMoment> Live(PatientParameters patient, IReadOnlyList<PatientDrive> drives, SeededRandom random, int stepsPerSecond)
    {
        if (drives.Count == 0) return [];
        var gas = new GasExchange(patient);
        gas.Settle(drives[0], flowFactor: 1);
        var pulse = new PulseAnswer(patient, random);
        double stepSeconds = 1.0 / stepsPerSecond;
        var site = new SensorSite(patient, random, stepSeconds, gas.ArterialBlood(drives[0]).Saturation, drives[0].PerfusionFactor);
        var moments = new PatientMoment[drives.Count];
        for (int second = 0; second < drives.Count; second++)
        {
            var drive = drives[second];
            double flow = Math.Clamp(pulse.PerMinute / patient.UsualPulsePerMinute, 0.5, 1.5);
            var now = gas.ArterialBlood(drive);
            for (int step = 0; step < stepsPerSecond; step++)
            {
                double before = now.Saturation;
                gas.Advance(drive, flow, stepSeconds);
                now = gas.ArterialBlood(drive);
                site.Take((before + now.Saturation) / 2);
            }

            pulse.Advance(now.Saturation * 100, now.CarbonDioxideTorr, drive.PulseOffsetPerMinute);
            site.Wander(drive.PerfusionFactor);
            moments[second] = new PatientMoment(
                now.Saturation * 100, site.Saturation * 100, site.VenousSaturation * 100, pulse.PerMinute, drive.BreathsPerMinute,
                drive.BreathDepth, drive.BreathEffort, site.PerfusionPercent, gas.Stores.AlveolarOxygenTorr, now.CarbonDioxideTorr);
        }

        return moments;
    }
}
