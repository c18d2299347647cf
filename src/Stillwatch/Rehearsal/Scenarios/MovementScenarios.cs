using Stillwatch.Alarms;
using Stillwatch.Rehearsal.Patients;

namespace Stillwatch.Rehearsal.Scenarios;

/// <summary>Movement that looks like hypoxaemia, and hypoxaemia that movement hides.</summary>
internal static class MovementScenarios
{
    public static readonly RehearsalScenario MovementWithoutHypoxaemia = new()
    {
        Name = "movement-without-hypoxaemia",
        Title = "Movement, and no hypoxaemia",
        Story = "A restless adult with a good saturation scratches, taps and trembles. The number on the screen falls again and again; the patient does not.",
        LearningPoints =
        [
            "The true saturation never falls below 92 %, yet the screen shows numbers below 90 %.",
            "Each of these falls begins and ends with movement, is shallow, and the quality of the reading falls with it.",
            "In rhythmic movement the pulse rate follows the hand and not the heart: a pulse that suddenly agrees with the tapping is a hint.",
            "Look at the patient and the site first; a longer delay or more averaging takes away most of these signals, and costs time in a true fall.",
        ],
        Preset = CategoryPresets.Adult,
        Patient = PatientParameters.Adult,
        DurationSeconds = 40 * 60,
        StartsAt = new TimeOnly(19, 30),
        Write = script =>
        {
            script.BreatheUnevenly(0.05);
            for (int at = 180; at < script.Seconds - 120; at += 200 + script.Random.Index(90))
            {
                bool rhythm = script.Random.Unit() < 0.4;
                script.Move(at, 25 + script.Random.Index(35), script.Random.Between(2.4, 3.2), rhythm ? script.Random.Between(1.8, 2.6) : 0);
            }
        },
    };
}
