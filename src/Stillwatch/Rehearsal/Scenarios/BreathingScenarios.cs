using Stillwatch.Alarms;
using Stillwatch.Rehearsal.Patients;

namespace Stillwatch.Rehearsal.Scenarios;

/// <summary>Too little breathing, and what added oxygen does to the number.</summary>
internal static class BreathingScenarios
{
    /// <summary>When breathing begins to fail in both opioid scenarios.</summary>
    internal const int FailsFromSecond = 600;

    public static readonly RehearsalScenario OpioidOnAir = new()
    {
        Name = "opioid-on-air",
        Title = "Opioid, breathing air",
        Story = "An adult after surgery breathes air. The opioid slows the breathing over twenty minutes; near the end somebody wakes the patient.",
        LearningPoints =
        [
            "On air the saturation follows the ventilation: it falls within minutes of the breathing, while carbon dioxide rises.",
            "The number itself is late by a minute or so: the way of the blood to the finger, and the averaging. What takes long is to notice.",
            "Breathing rate and how easily the patient wakes tell it earlier than the number does.",
            "The pulse rate says little here.",
        ],
        Preset = CategoryPresets.Adult,
        Patient = PatientParameters.Adult,
        DurationSeconds = 50 * 60,
        StartsAt = new TimeOnly(15, 20),
        Write = script =>
        {
            Sedate(script);
            Wake(script, 40 * 60);
            script.BreatheUnevenly(0.04);
        },
    };

    public static readonly RehearsalScenario OpioidOnOxygen = new()
    {
        Name = "opioid-on-oxygen",
        Title = "Opioid, with oxygen hiding it",
        Story = "The same patient, the same opioid and the same breathing, but with some added oxygen. The number stays good for most of an hour; then breathing all but stops.",
        LearningPoints =
        [
            "With added oxygen the saturation stays above 94 % while carbon dioxide climbs past 70 Torr: a good number is no proof of good breathing.",
            "Compare with the same story on air: there the low limit is passed long before.",
            "When the fall comes at last it is steep: from 95 % to below 85 % in a few minutes.",
            "A patient on opioids and oxygen needs eyes on rate, depth and wakefulness, and carbon dioxide measured where policy asks for it.",
        ],
        Preset = CategoryPresets.Adult,
        Patient = PatientParameters.Adult,
        DurationSeconds = 75 * 60,
        StartsAt = new TimeOnly(15, 20),
        Oxygen = "oxygen",
        Write = script =>
        {
            script.Set(Track.Oxygen, 0, 0.32);
            Sedate(script);
            script.Ramp(Track.Rate, 55 * 60, 240, 4.2);
            Wake(script, 66 * 60);
            script.BreatheUnevenly(0.04);
        },
    };

    public static readonly RehearsalScenario SedatedChild = new()
    {
        Name = "sedated-child",
        Title = "Two pauses of a sedated child",
        Story = "A child of four is sedated for a procedure. On air the breathing stops for 35 seconds. Later, after some minutes of much oxygen, it stops for two and a half minutes.",
        LearningPoints =
        [
            "On air a small child has little in store: the true saturation is below 90 % about half a minute after the last breath.",
            "After much oxygen the number stays near 100 % all through the first two minutes of a pause: it cannot tell you that nobody breathes.",
            "It goes on falling for some seconds after the first new breath, and then comes back fast.",
            "Watch the chest and, where there is one, the carbon dioxide trace; the number is the last to know.",
        ],
        Preset = CategoryPresets.Paediatric(50),
        Patient = PatientParameters.Child,
        DurationSeconds = 25 * 60,
        AveragingSeconds = 4,
        StartsAt = new TimeOnly(9, 15),
        Write = script =>
        {
            script.BreatheUnevenly(0.04);
            script.Pause(300, 35, effortAtEnd: 0, catchingUp: 1.6, catchingUpSeconds: 20);
            script.Set(Track.Oxygen, 600, 0.8);
            script.Note(TruthKind.OxygenRaised, 600, 600);
            script.Pause(960, 150, effortAtEnd: 0, catchingUp: 1.6, catchingUpSeconds: 40);
            script.Set(Track.Oxygen, 1200, PatientDrive.Air);
        },
    };

    private static void Sedate(ScenarioScript script)
    {
        script.Ramp(Track.Rate, FailsFromSecond, 1200, 8);
        script.Ramp(Track.Depth, FailsFromSecond, 1200, 0.9);
        script.Ramp(Track.Effort, FailsFromSecond, 1200, 0.9);
        script.Ramp(Track.PulseOffset, FailsFromSecond, 1200, -8);
        script.Note(TruthKind.Hypoventilation, FailsFromSecond, script.Seconds - FailsFromSecond);
    }

    private static void Wake(ScenarioScript script, int at)
    {
        script.Ramp(Track.Rate, at, 30, 16);
        script.Ramp(Track.Depth, at, 30, 1.25);
        script.Ramp(Track.Effort, at, 30, 1.25);
        script.Ramp(Track.PulseOffset, at, 20, 10);
    }
}
