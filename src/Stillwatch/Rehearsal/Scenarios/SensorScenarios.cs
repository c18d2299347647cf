using Stillwatch.Alarms;
using Stillwatch.Rehearsal.Patients;

namespace Stillwatch.Rehearsal.Scenarios;

/// <summary>A patient who is well, or whom nobody sees, and something between patient and screen that is not well.</summary>
internal static class SensorScenarios
{
    public static readonly RehearsalScenario SensorSlipped = new()
    {
        Name = "sensor-slipped",
        Title = "The sensor slips",
        Story = "An adult sleeps well. The sensor slides towards the fingertip, hangs on for some minutes, falls off and is put back.",
        LearningPoints =
        [
            "The number sinks to about 90 % and stays there, quite steady, while the true saturation never falls below 95 %.",
            "The perfusion index sinks with it: part of the light passes beside the finger.",
            "When the sensor falls off there is no number: a technical condition, and a patient who is not watched.",
            "A number that does not fit the patient is checked at the site, with the sensor newly placed, before it is acted on or waved away.",
        ],
        Preset = CategoryPresets.Adult,
        Patient = PatientParameters.Adult,
        DurationSeconds = 30 * 60,
        StartsAt = new TimeOnly(4, 5),
        Write = script =>
        {
            script.BreatheUnevenly(0.05);
            script.Ramp(Track.Slip, 480, 120, 1);
            script.Note(TruthKind.SensorSlipped, 480, 720);
            script.Move(478, 6, 1);
            script.TakeOff(1200, 150);
            script.Set(Track.Slip, 1350, 0);
            script.Move(1350, 8, 2);
        },
    };

    public static readonly RehearsalScenario ColdHand = new()
    {
        Name = "cold-hand",
        Title = "A cold hand",
        Story = "An adult comes from theatre with cold hands. The pulse under the sensor fades; in the middle of it the breathing stops for a while. Then the hand is warmed.",
        LearningPoints =
        [
            "With a perfusion index near 0.1 % the numbers come and go, and jump by more than they should.",
            "Blood takes longer to a cold hand: the true fall shows much later than at a warm one, if it shows at all.",
            "Low perfusion is a technical condition: warm the hand or choose another site.",
            "The true saturation is good while the number comes and goes, except for the one pause of breathing; the number alone cannot tell the two apart.",
        ],
        Preset = CategoryPresets.Adult,
        Patient = PatientParameters.Adult with { SiteDelaySeconds = 38, SiteSmoothingSeconds = 10 },
        DurationSeconds = 45 * 60,
        StartsAt = new TimeOnly(12, 45),
        Write = script =>
        {
            script.Set(Track.Perfusion, 0, 0.25);
            script.Ramp(Track.Perfusion, 240, 360, 0.06);
            // Cold vessels shut and open in turns.
            for (int at = 600; at < 1800; at += 120 + script.Random.Index(80)) script.During(Track.Perfusion, at, 70 + script.Random.Index(30), 0.018);
            script.Note(TruthKind.LowPerfusion, 600, 1260);
            script.BreatheUnevenly(0.05);
            script.Pause(1200, 60, effortAtEnd: 0, catchingUp: 1.5, catchingUpSeconds: 30);
            script.Ramp(Track.Perfusion, 1800, 300, 0.7);
        },
    };

    public static readonly RehearsalScenario LampLight = new()
    {
        Name = "lamp-light",
        Title = "Lamp light on the sensor",
        Story = "An adult is examined under a bright lamp. Its flicker reaches the sensor and swings as fast as a quick pulse. After some minutes the sensor is covered.",
        LearningPoints =
        [
            "The screen shows a pulse rate beyond 100 /min and a saturation below 90 % for most of the time; the patient's are about 70 /min and 97 %.",
            "It begins and ends within seconds, with the lamp: falls of a patient do not.",
            "The pulse rate agrees with nothing: count the pulse by hand, or compare with the electrocardiogram.",
            "Cover the sensor with something that lets no light through.",
        ],
        Preset = CategoryPresets.Adult,
        Patient = PatientParameters.Adult with { UsualPerfusionPercent = 1.6, PerfusionWander = 0.05 },
        DurationSeconds = 25 * 60,
        StartsAt = new TimeOnly(10, 30),
        Write = script =>
        {
            script.BreatheUnevenly(0.05);
            script.During(Track.Flicker, 480, 480, 0.026);
            script.During(Track.FlickerHz, 480, 480, 1.9);
            script.During(Track.Ambient, 480, 480, 0.4);
            script.Note(TruthKind.StrayLight, 480, 480);
        },
    };

    public static readonly RehearsalScenario FeedLost = new()
    {
        Name = "feed-lost",
        Title = "Nothing arrives any more",
        Story = "An adult sleeps on air after surgery. For seven minutes nothing arrives from the monitor. In that time the airway shuts for 75 seconds.",
        LearningPoints =
        [
            "While nothing arrives there is no number, no alarm limit and no fall on any trend: silence says nothing about the patient.",
            "The true saturation is below 85 % in these minutes, and no SpO2 signal can come.",
            "A stale feed has its own signal. It means: go and look, and watch the patient at the bedside until it is mended.",
            "In a look back the gap stays a gap. Do not draw a line through it.",
        ],
        Preset = CategoryPresets.Adult,
        Patient = PatientParameters.Adult,
        DurationSeconds = 30 * 60,
        StartsAt = new TimeOnly(3, 30),
        Write = script =>
        {
            script.Set(Track.Shunt, 0, 0.05);
            script.BreatheUnevenly(0.05);
            script.LoseFeed(720, 420);
            script.Pause(840, 75, effortAtEnd: 2, catchingUp: 1.6, catchingUpSeconds: 30);
        },
    };
}
