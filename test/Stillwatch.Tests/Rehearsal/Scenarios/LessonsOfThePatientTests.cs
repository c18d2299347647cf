using Stillwatch.Alarms;
using Stillwatch.Rehearsal;
using Stillwatch.Rehearsal.Patients;
using Stillwatch.Rehearsal.Scenarios;
using Stillwatch.Replay;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tests.Rehearsal.Scenarios;

/// <summary>The learning points of the scenarios in which something is wrong with the patient, held against their numbers.</summary>
public sealed class LessonsOfThePatientTests
{
    [Fact]
    public void On_air_the_saturation_follows_an_opioids_slow_breathing()
    {
        foreach (var run in Rehearsed.Of("opioid-on-air"))
        {
            int low = run.FirstSignal(AlarmCondition.SpO2Low);
            Assert.InRange(low, 1200, 2000);
            Assert.True(run.Truth(low).ArterialCarbonDioxideTorr < 60, "the number falls early");
            int shown = run.First(600, t => run.Shown(t) < 90), truly = run.First(600, t => run.Truth(t).ArterialSaturationPercent < 90);
            Assert.InRange(shown - truly, 10, 90);
            Assert.True(run.Truth(2300).SiteSaturationPercent < 85);
            Assert.True(run.Truth(low).RespiratoryRatePerMinute < 11);
            Assert.InRange(run.Truth(low).PulseRatePerMinute - run.Truth(500).PulseRatePerMinute, -20, 20);
            Assert.True(run.Truth(2999).SiteSaturationPercent > 95, "woken");
        }
    }

    [Fact]
    public void Added_oxygen_hides_the_same_slow_breathing_while_carbon_dioxide_climbs()
    {
        foreach (var run in Rehearsed.Of("opioid-on-oxygen"))
        {
            Assert.Contains(run.Seconds, t => run.Truth(t).ArterialCarbonDioxideTorr > 70 && run.Seconds.Take(t).All(s => run.Truth(s).SiteSaturationPercent > 94));
            int low = run.FirstSignal(AlarmCondition.SpO2Low);

            // The same breaths, lived through on air.
            var onAir = InventedPatient.Live(run.Run.Scenario.Patient, [.. run.Run.Drives.Select(d => d with { InhaledOxygenFraction = PatientDrive.Air })], new SeededRandom(1));
            int lowOnAir = Enumerable.Range(0, onAir.Count).First(t => onAir[t].SiteSaturationPercent < 90);
            Assert.True(low - lowOnAir > 20 * 60, $"{lowOnAir} s on air, {low} s on oxygen");
            Assert.Equal(onAir[lowOnAir].ArterialCarbonDioxideTorr, run.Truth(lowOnAir).ArterialCarbonDioxideTorr, 2.0);

            int from = run.First(3000, t => run.Truth(t).SiteSaturationPercent < 95), to = run.First(from, t => run.Truth(t).SiteSaturationPercent < 85);
            Assert.InRange(to - from, 30, 420);
        }
    }

    [Fact]
    public void A_childs_store_lasts_half_a_minute_on_air_and_minutes_after_oxygen()
    {
        foreach (var run in Rehearsed.Of("sedated-child"))
        {
            var pauses = run.Stretches(TruthKind.Apnoea).ToList();
            Assert.InRange(run.First(pauses[0].Start, t => run.Truth(t).SiteSaturationPercent < 90) - pauses[0].Start, 20, 45);
            Assert.All(Enumerable.Range(pauses[1].Start, 120), t => Assert.True(run.Truth(t).SiteSaturationPercent > 98.5));
            Assert.True(run.Truth(pauses[1].End).ArterialCarbonDioxideTorr > run.Truth(pauses[1].Start - 1).ArterialCarbonDioxideTorr + 12);
            foreach (var (start, end) in pauses)
            {
                int lowest = Enumerable.Range(start, end + 60 - start).MinBy(t => run.Truth(t).SiteSaturationPercent);
                Assert.InRange(lowest - end, 5, 30);
                Assert.True(run.Truth(lowest + 30).SiteSaturationPercent > run.Truth(start).SiteSaturationPercent - 2);
            }

            Assert.Equal(1, run.Count(AlarmCondition.SpO2Low));
        }
    }

    [Fact]
    public void Shut_airways_make_a_saw_tooth_that_reaches_the_finger_late()
    {
        foreach (var run in Rehearsed.Of("obstructive-pauses"))
        {
            var pauses = run.Stretches(TruthKind.Apnoea).ToList();
            Assert.True(pauses.Count > 15);
            int after = 0, swings = 0;
            foreach (var (start, end) in pauses)
            {
                if (end + 40 >= run.Run.Seconds) continue;
                Assert.True(run.Truth(end - 1).BreathEffort > 1.5 && run.Truth(end - 1).BreathDepth == 0);
                int lowest = Enumerable.Range(start, end + 40 - start).MinBy(t => run.Truth(t).SiteSaturationPercent);
                if (lowest > end) after++;
                if (Enumerable.Range(end, 15).Max(t => run.Truth(t).PulseRatePerMinute) > run.Truth(end - 1).PulseRatePerMinute + 8) swings++;
            }

            Assert.True(after > 0.9 * (pauses.Count - 1), $"{after} of {pauses.Count}");
            Assert.True(swings > 0.8 * (pauses.Count - 1), $"{swings} of {pauses.Count}");
            // The limit with its delay signals only some of the falls: more of them with no delay.
            int signalled = run.Count(AlarmCondition.SpO2Low);
            Assert.InRange(signalled, 5, pauses.Count - 1);
        }
    }

    [Fact]
    public void Pneumonia_shows_in_the_trend_long_before_the_limit()
    {
        foreach (var run in Rehearsed.Of("slow-pneumonia"))
        {
            double Mean(int from) => Enumerable.Range(from, 600).Average(t => run.Truth(t).SiteSaturationPercent);
            double beginning = Mean(0);
            int down3 = Enumerable.Range(1, 17).Select(i => i * 600).First(from => Mean(from) <= beginning - 3) + 600;
            // Minutes in a row under the limit, not its first touch.
            int low = run.First(0, t => t + 300 < run.Run.Seconds && Enumerable.Range(t, 300).All(s => run.Truth(s).SiteSaturationPercent < 90));
            Assert.True(low - down3 >= 25 * 60, $"3 points down after {down3} s, below 90 for good after {low} s");
            Assert.True(run.Truth(down3).RespiratoryRatePerMinute > run.Truth(600).RespiratoryRatePerMinute + 2);
            Assert.True(Enumerable.Range(10200, 600).Average(t => run.Truth(t).PulseRatePerMinute) > Enumerable.Range(0, 600).Average(t => run.Truth(t).PulseRatePerMinute) + 12);
            Assert.True(Mean(10200) < 90);
        }
    }

    [Fact]
    public void Oxygen_hardly_helps_blood_that_passes_no_air()
    {
        foreach (var run in Rehearsed.Of("oxygen-little-answer"))
        {
            double at40 = Enumerable.Range(1500, 100).Average(t => run.Truth(t).SiteSaturationPercent), at80 = Enumerable.Range(2100, 100).Average(t => run.Truth(t).SiteSaturationPercent);
            Assert.InRange(at80 - at40, 0.5, 5);
            Assert.True(at80 < 95);
            Assert.True(run.Truth(2900).SiteSaturationPercent > 99);
            Assert.Equal(run.Run.Drives[2200].InhaledOxygenFraction, run.Run.Drives[2900].InhaledOxygenFraction);
            Assert.True(run.Truth(1000).PulseRatePerMinute > run.Truth(400).PulseRatePerMinute + 4);
            Assert.True(run.Count(AlarmCondition.SpO2Low) >= 1);
        }
    }

    [Fact]
    public void Generous_oxygen_looks_splendid_while_carbon_dioxide_climbs_and_only_a_high_limit_notices()
    {
        foreach (var run in Rehearsed.Of("hypercapnic-generous-oxygen"))
        {
            Assert.InRange(Enumerable.Range(0, 900).Average(t => run.Truth(t).SiteSaturationPercent), 88, 92.5);
            var generous = Enumerable.Range(1100, 3400).ToList();
            Assert.All(generous, t => Assert.True(run.Truth(t).SiteSaturationPercent > 95));
            Assert.True(run.Truth(4490).ArterialCarbonDioxideTorr > run.Truth(890).ArterialCarbonDioxideTorr + 20);
            Assert.Equal(0, run.Count(AlarmCondition.SpO2Low));
            Assert.InRange(run.FirstSignal(AlarmCondition.SpO2High), 900, 1100);
            Assert.True(run.Truth(5390).ArterialCarbonDioxideTorr < run.Truth(4490).ArterialCarbonDioxideTorr - 10);

            var withoutHigh = run.Run.Scenario.Preset.ToSettings() with { SpO2High = null };
            Assert.Empty(Replayer.Run(run.Run.Numerics, withoutHigh).Signals);

            // Set back to nothing, the fall is deeper than it ever was.
            var toAir = run.Run.Drives.Select((d, t) => t < 4500 ? d : d with { InhaledOxygenFraction = PatientDrive.Air }).ToList();
            Assert.True(InventedPatient.Live(run.Run.Scenario.Patient, toAir, new SeededRandom(1)).Min(m => m.SiteSaturationPercent) < run.Run.Patient.Min(m => m.SiteSaturationPercent) - 2);
        }
    }

    [Fact]
    public void A_preterms_pauses_of_seconds_show_and_long_averaging_hides_them()
    {
        int shortAveraging = 0, longAveraging = 0;
        foreach (var run in Rehearsed.Of("preterm-periodic-breathing"))
        {
            Assert.InRange(run.Run.Patient.Max(m => m.SiteSaturationPercent), 93, 97);
            var pauses = run.Stretches(TruthKind.Apnoea).ToList();
            Assert.True(pauses.Count > 40);
            // The long ones come with a slow heart, the short ones do not.
            foreach (var (start, end) in pauses.Where(p => p.End + 20 < run.Run.Seconds))
            {
                double slowest = Enumerable.Range(start, end + 10 - start).Min(t => run.Truth(t).PulseRatePerMinute);
                if (end - start >= 19) Assert.True(slowest < 115, $"{start}: {slowest}");
                else if (pauses.TrueForAll(p => p.End - p.Start < 19 || p.Start > end || start - p.End > 60)) Assert.True(slowest > 125, $"{start}: {slowest}");
            }

            Assert.Contains(pauses, p => p.End - p.Start >= 19);
            Assert.True(run.Count(AlarmCondition.SpO2Low) + run.Count(AlarmCondition.PulseRateLow) >= 3);
            shortAveraging += Falls(run.Run);
            longAveraging += Falls((run.Run.Scenario with { AveragingSeconds = 16 }).Run(run.Run.Seed));
        }

        // Compare: 1958 falls at 3 s against 339 at 16 s (Vagedes, ADC-FN 2013;98:F265); only the direction is held here.
        Assert.True(longAveraging * 2 < shortAveraging, $"{shortAveraging} at 2 s, {longAveraging} at 16 s");

        // Crossings to below 90 %.
        static int Falls(RehearsalRun run)
        {
            var values = run.Numerics.Find(ChannelKind.SpO2)!.Values;
            return Enumerable.Range(1, values.Count - 1).Count(i => values[i] < 90_000_000 && values[i - 1] >= 90_000_000);
        }
    }

    [Fact]
    public void Too_much_oxygen_in_a_preterm_looks_excellent_and_only_a_high_limit_notices()
    {
        foreach (var run in Rehearsed.Of("preterm-too-much-oxygen"))
        {
            Assert.True(run.Run.Patient.Count(m => m.SiteSaturationPercent > 95) > run.Run.Seconds / 2);
            Assert.InRange(Enumerable.Range(0, 600).Average(t => run.Truth(t).SiteSaturationPercent), 91, 95.5);
            int low = run.Seconds.Count(t => t > 700 && run.Truth(t).SiteSaturationPercent < 91);
            Assert.Equal(0, low);
            Assert.InRange(run.Signals.Of(AlarmCondition.SpO2High).Sum(s => s.Active.Minutes), 25, 60);
            Assert.All(run.Signals.Of(AlarmCondition.SpO2Low), s => Assert.True(s.Start < new SampleTime(700_000)));
            // Oxygen in the lungs more than doubles while the number moves by a few points.
            Assert.True(run.Truth(2000).AlveolarOxygenTorr > 2 * run.Truth(400).AlveolarOxygenTorr);
            Assert.True(run.Truth(2000).SiteSaturationPercent - run.Truth(400).SiteSaturationPercent < 6);
        }
    }
}
