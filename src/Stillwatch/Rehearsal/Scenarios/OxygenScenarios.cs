using Stillwatch.Alarms;
using Stillwatch.Rehearsal.Patients;

namespace Stillwatch.Rehearsal.Scenarios;

/// <summary>Adults who get oxygen: too much of it, and to little avail.</summary>
internal static class OxygenScenarios
{
    public static readonly RehearsalScenario HypercapnicGenerousOxygen = new()
    {
        Name = "hypercapnic-generous-oxygen",
        Title = "Generous oxygen in a patient who retains carbon dioxide",
        Story = "An adult with chronic lung disease and a prescribed target of 88–92 % is well inside it. A worried hand opens the oxygen; over the next hour breathing gets slower and less of it does any good. Then the oxygen is set back.",
        LearningPoints =
        [
            "With generous oxygen the number looks splendid, 95 % and more, while arterial carbon dioxide climbs by more than 20 Torr.",
            "No low limit can notice this. A high limit that fits the prescribed target, with oxygen running, is the only SpO2 signal there is.",
            "The patient gets sleepier, not more restless: look, and let blood gases be taken where policy asks for it.",
            "Set back to the target, never to nothing: without oxygen the fall would be worse than before.",
        ],
        Preset = CategoryPresets.AdultHypercapnicRisk,
        Patient = PatientParameters.Adult with
        {
            OxygenUseMlPerMinute = 250,
            DeadSpaceMl = 210,
            UsualBreathsPerMinute = 21,
            UsualCarbonDioxideTorr = 55,
            UsualPH = 7.37,
            HaemoglobinGramsPerDl = 15.5,
            UsualPulsePerMinute = 90,
            PulseAnswersBelowPercent = 86,
            UsualPerfusionPercent = 1.7,
        },
        DurationSeconds = 90 * 60,
        StartsAt = new TimeOnly(16, 0),
        Oxygen = "oxygen",
        Write = script =>
        {
            script.Set(Track.Oxygen, 0, 0.24);
            script.Set(Track.Shunt, 0, 0.22);
            script.Set(Track.Oxygen, 900, 0.6);
            script.Note(TruthKind.OxygenRaised, 900, 3600);
            script.Note(TruthKind.Hypoventilation, 1200, 3300);
            script.Ramp(Track.Rate, 900, 2700, 16);
            script.Ramp(Track.Depth, 900, 2700, 0.95);
            script.Ramp(Track.Effort, 900, 2700, 0.9);
            script.Ramp(Track.DeadSpace, 900, 1200, 1.12);
            script.Set(Track.Oxygen, 4500, 0.26);
            script.Ramp(Track.Rate, 4500, 600, 22);
            script.Ramp(Track.Depth, 4500, 600, 1.05);
            script.Ramp(Track.DeadSpace, 4500, 600, 1);
            script.BreatheUnevenly(0.04);
        },
    };

    public static readonly RehearsalScenario OxygenLittleAnswer = new()
    {
        Name = "oxygen-little-answer",
        Title = "Oxygen that hardly helps",
        Story = "In an adult after surgery a large part of a lung collapses. Oxygen is turned up in two steps; the number hardly answers. At last the lung opens again.",
        LearningPoints =
        [
            "Blood that passes lung without air meets no oxygen, however much is inhaled: from 40 % to 80 % oxygen the number gains only a few points.",
            "When the lung has opened again the same oxygen takes the number to 99 % and more: the oxygen was never the trouble.",
            "Little answer to more oxygen is itself a finding: say it when you call.",
            "The fall took minutes and the pulse rate rose with it; nothing about the sensor changed.",
        ],
        Preset = CategoryPresets.Adult,
        Patient = PatientParameters.Adult with { UsualPulsePerMinute = 78 },
        DurationSeconds = 50 * 60,
        StartsAt = new TimeOnly(6, 20),
        Oxygen = "oxygen",
        Write = script =>
        {
            script.Set(Track.Shunt, 0, 0.05);
            script.Ramp(Track.Shunt, 480, 300, 0.42);
            script.Ramp(Track.Rate, 540, 300, 22);
            script.Ramp(Track.PulseOffset, 540, 300, 12);
            script.Set(Track.Oxygen, 1080, 0.4);
            script.Set(Track.Oxygen, 1620, 0.8);
            script.Note(TruthKind.OxygenRaised, 1080, 1920);
            script.Ramp(Track.Shunt, 2280, 180, 0.06);
            script.Ramp(Track.Rate, 2280, 180, 15);
            script.Ramp(Track.PulseOffset, 2280, 180, 2);
            script.BreatheUnevenly(0.04);
        },
    };
}
