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
        Patient = PatientParameters.Adult with { PerfusionWander = 0.08 },
        DurationSeconds = 40 * 60,
        StartsAt = new TimeOnly(19, 30),
        Write = script =>
        {
            script.BreatheUnevenly(0.05);
            for (int at = 180; at < script.Seconds - 120; at += 200 + script.Random.Index(90))
            {
                bool rhythm = script.Random.Unit() < 0.4;
                script.Move(at, 25 + script.Random.Index(35), script.Random.Between(2.8, 3.6), rhythm ? script.Random.Between(1.8, 2.6) : 0);
            }
        },
    };

    public static readonly RehearsalScenario HypoxaemiaBehindMovement = new()
    {
        Name = "hypoxaemia-behind-movement",
        Title = "Hypoxaemia that movement hides",
        Story = "A confused adult with bad lungs needs oxygen and keeps pulling the mask away. Each time there is a struggle of two or three minutes; when it is over the mask is back.",
        LearningPoints =
        [
            "The true saturation falls below 88 % in every struggle, and the screen shows no number, or an old one, for most of that time.",
            "The SpO2 alarm stays silent; the only signal is a technical one: no reading.",
            "A technical alarm in a patient who may be hypoxaemic is not a nuisance. Treat no number as not known, never as normal.",
            "Restlessness can be hypoxaemia. Look at the patient, the mask and the breathing, not at the sensor alone.",
        ],
        Preset = CategoryPresets.Adult,
        Patient = PatientParameters.Adult with { UsualPulsePerMinute = 88, PerfusionWander = 0.08 },
        DurationSeconds = 40 * 60,
        StartsAt = new TimeOnly(23, 40),
        Oxygen = "oxygen",
        Write = script =>
        {
            script.Set(Track.Oxygen, 0, 0.35);
            script.Set(Track.Shunt, 0, 0.2);
            script.BreatheUnevenly(0.05);
            for (int at = 300; at < script.Seconds - 300; at += 210 + script.Random.Index(80))
            {
                int without = 130 + script.Random.Index(30), length = without + 65;
                script.Move(at, length, script.Random.Between(8, 10), swellSeconds: 1);
                script.During(Track.Oxygen, at, without, PatientDrive.Air);
                script.During(Track.OxygenUse, at, without, 1.6);
                script.During(Track.Depth, at, without, 0.76);
                script.During(Track.Depth, at + without, 60, 1.25);
                script.During(Track.PulseOffset, at, length, 16);
                at += length;
            }
        },
    };
}
