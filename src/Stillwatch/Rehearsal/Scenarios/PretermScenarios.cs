using Stillwatch.Alarms;
using Stillwatch.Rehearsal.Patients;

namespace Stillwatch.Rehearsal.Scenarios;

/// <summary>Preterm neonates on some oxygen: small stores, fast falls, and too much that looks like plenty.</summary>
internal static class PretermScenarios
{
    public static readonly RehearsalScenario PeriodicBreathing = new()
    {
        Name = "preterm-periodic-breathing",
        Title = "A preterm with periodic breathing",
        Story = "A preterm of 1.2 kg on a little oxygen breathes in bursts, with pauses of some seconds between them. A few pauses are longer, and the heart slows in them.",
        LearningPoints =
        [
            "Lungs this small hold oxygen for seconds: pauses that an adult would not notice show in the saturation.",
            "The short falls end by themselves; the long pauses come with a slow pulse, and those need hands.",
            "With averaging over 16 s instead of 2 s many of these falls do not show at all, and the lowest number is not as low: know your monitor's averaging before you count.",
            "The pauses are the cause, the numbers come after: watch the breathing too.",
        ],
        Preset = CategoryPresets.NeonatalOnOxygen,
        Patient = PatientParameters.Preterm with { LungVolumeMl = 20, UsualCarbonDioxideTorr = 52, UsualPH = 7.32 },
        DurationSeconds = 40 * 60,
        AveragingSeconds = 2,
        StartsAt = new TimeOnly(5, 0),
        Oxygen = "oxygen",
        Write = script =>
        {
            script.Set(Track.Oxygen, 0, 0.22);
            script.Set(Track.Shunt, 0, 0.2);
            script.BreatheUnevenly(0.06);
            int untilLong = 8;
            for (int at = 120; at < script.Seconds - 120; at += 10 + script.Random.Index(6))
            {
                bool isLong = --untilLong == 0;
                int length = isLong ? 19 + script.Random.Index(9) : 7 + script.Random.Index(5);
                script.Pause(at, length, effortAtEnd: 0, catchingUp: 1.5, catchingUpSeconds: 8);
                at += length;
                if (!isLong) continue;
                script.During(Track.PulseOffset, at - length + 7, length - 5, -62);
                at += 90;
                untilLong = 12 + script.Random.Index(8);
            }
        },
    };

    public static readonly RehearsalScenario TooMuchOxygen = new()
    {
        Name = "preterm-too-much-oxygen",
        Title = "Too much oxygen in a preterm",
        Story = "A preterm is in the target of 91–95 %. After a fall the oxygen is turned up, the number is good, and nobody turns it down again for most of the hour.",
        LearningPoints =
        [
            "More than half of the hour is spent above 95 %: the number looks excellent and is out of target.",
            "At 98–100 % the number cannot tell how much too much it is: oxygen in the lungs more than doubles while the number moves by a point or two.",
            "A low limit never notices. A high limit, while oxygen is given, does.",
            "What was turned up for a fall is turned down after it: make it part of the same action. Target and steps are your unit's.",
        ],
        Preset = CategoryPresets.NeonatalOnOxygen,
        Patient = PatientParameters.Preterm with { UsualCarbonDioxideTorr = 54, UsualPH = 7.31 },
        DurationSeconds = 60 * 60,
        AveragingSeconds = 4,
        StartsAt = new TimeOnly(13, 0),
        Oxygen = "oxygen",
        Write = script =>
        {
            script.Set(Track.Oxygen, 0, 0.22);
            script.Set(Track.Shunt, 0, 0.22);
            script.BreatheUnevenly(0.05);
            script.Pause(600, 26, effortAtEnd: 0, catchingUp: 1.3, catchingUpSeconds: 10);
            script.During(Track.PulseOffset, 608, 20, -55);
            script.Ramp(Track.Oxygen, 630, 10, 0.5);
            script.Note(TruthKind.OxygenRaised, 630, 2370);
            script.Ramp(Track.Oxygen, 3000, 240, 0.22);
        },
    };
}
