using CsCheck;
using Stillwatch.Rehearsal;
using Stillwatch.Rehearsal.Patients;

namespace Stillwatch.Tests.Rehearsal.Patients;

/// <summary>Patients and drives for the tests.</summary>
internal static class InventedKinds
{
    public static readonly PatientParameters[] All = [PatientParameters.Adult, PatientParameters.Child, PatientParameters.Preterm];

    public static readonly Gen<PatientParameters> Any = Gen.Int[0, All.Length - 1].Select(i => All[i]);

    /// <summary>A drive relative to a patient's usual one.</summary>
    public readonly record struct Relative(double Rate, double Depth, double Inhaled, double Shunt, double Use)
    {
        public PatientDrive Of(PatientParameters patient) => PatientDrive.Usual(patient) with
        {
            BreathsPerMinute = patient.UsualBreathsPerMinute * Rate,
            BreathDepth = Depth,
            InhaledOxygenFraction = Inhaled,
            ShuntFraction = Shunt,
            OxygenUseFactor = Use,
        };
    }

    /// <summary>Stretches of 5–40 s, every third without air, as many seconds as asked for.</summary>
    public static Gen<Relative[]> Drives(int seconds) =>
        Gen.Select(Gen.Int[5, 40], Gen.Int[0, 2], Gen.Double[0.5, 1.6], Gen.Double[0.7, 1.4], Gen.Double[0.21, 0.9], Gen.Double[0, 0.4], Gen.Double[0.8, 1.4],
                (length, pause, rate, depth, inhaled, shunt, use) => Enumerable.Repeat(new Relative(rate, pause == 0 ? 0 : depth, inhaled, shunt, use), length))
            .Array[seconds / 5].Select(stretches => stretches.SelectMany(s => s).Take(seconds).ToArray());

    /// <summary>Usual breaths, then none, on some oxygen: nothing wanders.</summary>
    public static IReadOnlyList<PatientMoment> Apnoea(PatientParameters patient, double inhaled, int usualSeconds, int pauseSeconds, int afterSeconds = 0)
    {
        var usual = PatientDrive.Usual(patient) with { InhaledOxygenFraction = inhaled };
        var drives = Enumerable.Repeat(usual, usualSeconds)
            .Concat(Enumerable.Repeat(usual with { BreathDepth = 0 }, pauseSeconds))
            .Concat(Enumerable.Repeat(usual, afterSeconds));
        return InventedPatient.Live(Steady(patient), drives.ToList(), new SeededRandom(1));
    }

    public static PatientParameters Steady(PatientParameters patient) => patient with { PulseWanderPerMinute = 0, PerfusionWander = 0 };

    /// <summary>Seconds from <paramref name="from"/> until something holds; -1: never.</summary>
    public static int SecondsUntil(IReadOnlyList<PatientMoment> moments, int from, Func<PatientMoment, bool> holds)
    {
        for (int t = from; t < moments.Count; t++)
        {
            if (holds(moments[t])) return t + 1 - from;
        }

        return -1;
    }
}
