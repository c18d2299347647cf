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
            for (int at = 400 + (int)script.Random.Wait(900); at < script.Seconds - 300; at += 120 + (int)script.Random.Wait(1500))
                script.Move(at, 4 + script.Random.Index(8), script.Random.Between(0.3, 1.2));
            script.TakeOff(5 * 3600 + script.Random.Index(1200), 150);
        },
    };

    public static readonly RehearsalScenario SlowPneumonia = new()
    {
        Name = "slow-pneumonia",
        Title = "Pneumonia getting worse",
        Story = "An adult with pneumonia breathes air. Over three hours more and more blood passes through lung that is full instead of air; breathing and pulse get faster, and the saturation sinks a point at a time.",
        LearningPoints =
        [
            "The saturation is 3 points under the patient's own beginning long before it stays below the limit of 90 %.",
            "Breathing rate and pulse rate rise all the while; the breathing rate is on no oximeter.",
            "No single moment looks alarming: the trend does.",
            "A limit answers to a level. Look at the hours, and ask for an assessment when a patient is 3 points down (BTS guideline 2017).",
        ],
        Preset = CategoryPresets.Adult,
        Patient = PatientParameters.Adult with { UsualPulsePerMinute = 84, OxygenUseMlPerMinute = 260, UsualBreathsPerMinute = 17 },
        DurationSeconds = 3 * 3600,
        StartsAt = new TimeOnly(2, 0),
        Write = script =>
        {
            script.Set(Track.Shunt, 0, 0.07);
            script.Ramp(Track.Shunt, 1200, script.Seconds - 1200, 0.34);
            script.Ramp(Track.Rate, 1200, script.Seconds - 1200, 29);
            script.Ramp(Track.Depth, 1200, script.Seconds - 1200, 0.86);
            script.Ramp(Track.Effort, 1200, script.Seconds - 1200, 1.3);
            script.Ramp(Track.OxygenUse, 1200, script.Seconds - 1200, 1.15);
            script.Ramp(Track.PulseOffset, 1200, script.Seconds - 1200, 18);
            script.Note(TruthKind.SlowDecline, 1200, script.Seconds - 1200);
            script.BreatheUnevenly(0.05);
            for (int at = 900; at < script.Seconds - 300; at += 700 + script.Random.Index(900)) script.Move(at, 5 + script.Random.Index(8), script.Random.Between(0.4, 1.4));
        },
    };

    public static readonly RehearsalScenario ObstructivePauses = new()
    {
        Name = "obstructive-pauses",
        Title = "The airway shuts again and again",
        Story = "A heavy adult sleeps on the back, on air. The throat closes every minute or so: the chest works harder and harder, no air moves, then a snort and some deep breaths.",
        LearningPoints =
        [
            "The lowest number comes after the breathing has begun again: blood needs time from the lungs to the finger.",
            "Effort is not breathing: the chest moves all through the pause.",
            "The pulse rate sags in the pause and leaps with the waking; the two together make a saw-tooth.",
            "A limit with a delay signals only some of the falls; count the falls themselves before you judge such a night.",
        ],
        Preset = CategoryPresets.Adult,
        Patient = PatientParameters.Adult with { WeightKg = 118, OxygenUseMlPerMinute = 290, LungVolumeMl = 2100, UsualCarbonDioxideTorr = 42, CardiacOutputMlPerMinute = 6000 },
        DurationSeconds = 60 * 60,
        StartsAt = new TimeOnly(1, 10),
        Write = script =>
        {
            script.Set(Track.Shunt, 0, 0.06);
            script.BreatheUnevenly(0.05);
            for (int at = 420; at < script.Seconds - 240; at += 40 + script.Random.Index(45))
            {
                int length = 18 + script.Random.Index(26);
                script.Pause(at, length, effortAtEnd: 2.2, catchingUp: 1.7, catchingUpSeconds: 16);
                script.During(Track.PulseOffset, at + 4, length - 4, -7);
                script.During(Track.PulseOffset, at + length, 12, 16);
                script.During(Track.Perfusion, at + length, 10, 0.55);
                at += length;
                // Between trains of pauses, some minutes of even breathing.
                if (script.Random.Unit() < 0.1) at += 180;
            }
        },
    };
}
