using Stillwatch.Alarms;
using Stillwatch.Rehearsal.Patients;

namespace Stillwatch.Rehearsal.Scenarios;

/// <summary>Long stretches: what is usual, and what creeps.</summary>
internal static class NightScenarios
{
    public static readonly RehearsalScenario QuietNight = new()
    {
        Name = "quiet-night",
        Title = "A quiet night",
        Story = "A healthy adult sleeps for eight hours and turns over now and then. Once the sensor comes off and is put back.",
        LearningPoints =
        [
            "Saturation is not a straight line in a healthy sleeper: it wanders by a point or two, and the pulse rate with it.",
            "The few falls on the screen come with movement and are over within seconds.",
            "A sensor that came off gives no number; that is a technical condition and says nothing about the patient.",
            "Know what quiet looks like on your unit before you judge a night that is not.",
        ],
        Preset = CategoryPresets.Adult,
        Patient = PatientParameters.Adult,
        DurationSeconds = 8 * 3600,
        Write = script =>
        {
            script.BreatheUnevenly(0.06);
            for (int at = 400 + (int)script.Random.Wait(2400); at < script.Seconds - 300; at += 120 + (int)script.Random.Wait(2400))
                script.Move(at, 4 + script.Random.Index(8), script.Random.Between(0.3, 1.2));
            script.TakeOff(5 * 3600 + script.Random.Index(1200), 150);
        },
    };
}
