using Stillwatch.Alarms;
using Stillwatch.Rehearsal;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tests.Rehearsal.Scenarios;

/// <summary>The learning points of the scenarios in which something is wrong between patient and screen, held against their numbers.</summary>
public sealed class LessonsOfTheSensorTests
{
    [Fact]
    public void Movement_without_hypoxaemia_lowers_the_screen_and_not_the_patient()
    {
        foreach (var run in Rehearsed.Of("movement-without-hypoxaemia"))
        {
            Assert.True(run.Run.Patient.Min(m => m.SiteSaturationPercent) >= 92);
            var low = run.Seconds.Where(t => run.Shown(t) < 90).ToList();
            Assert.True(low.Count > 30);
            // Each fall belongs to a movement, or to the averaging just after one; it is shallow.
            Assert.All(low, t => Assert.True(run.During(TruthKind.Motion, t) || run.During(TruthKind.Motion, t - 12), $"second {t}"));
            Assert.All(low, t => Assert.True(run.Shown(t) >= 80));
            Assert.True(run.Count(AlarmCondition.SpO2Low) >= 1);

            double quality = low.Average(t => run.Shown(ChannelKind.SignalQuality, t)!.Value);
            Assert.True(quality < run.Seconds.Where(t => !run.During(TruthKind.Motion, t)).Average(t => run.Shown(ChannelKind.SignalQuality, t)!.Value) - 20);
        }
    }

    [Fact]
    public void In_rhythmic_movement_the_pulse_rate_follows_the_hand()
    {
        int seen = 0, near = 0;
        foreach (var run in Rehearsed.Of("movement-without-hypoxaemia"))
        {
            foreach (int t in run.Seconds.Where(t => t > 10 && Enumerable.Range(t - 10, 11).All(s => run.Run.Sensor[s].MotionHz > 0 && run.Run.Sensor[s].Motion > 2)))
            {
                if (run.Shown(ChannelKind.PulseRate, t) is not { } shown) continue;
                seen++;
                double hand = run.Run.Sensor[t].MotionHz * 60;
                if (Math.Abs(shown - hand) < Math.Abs(shown - run.Truth(t).PulseRatePerMinute)) near++;
            }
        }

        Assert.True(seen > 100 && near > 0.9 * seen, $"{near} of {seen} s");
    }

    [Fact]
    public void A_longer_delay_quietens_movement()
    {
        foreach (var run in Rehearsed.Of("movement-without-hypoxaemia"))
        {
            var settings = run.Run.Scenario.Preset.ToSettings();
            var patient = settings with { SpO2Low = settings.SpO2Low! with { Delay = Duration.FromSeconds(30) } };
            int with30 = Stillwatch.Replay.Replayer.Run(run.Run.Numerics, patient).Of(AlarmCondition.SpO2Low).Count();
            Assert.True(2 * with30 <= run.Count(AlarmCondition.SpO2Low), $"{with30} of {run.Count(AlarmCondition.SpO2Low)}");
        }
    }

    [Fact]
    public void Hypoxaemia_behind_movement_is_not_on_the_screen_and_gives_only_technical_signals()
    {
        foreach (var run in Rehearsed.Of("hypoxaemia-behind-movement"))
        {
            foreach (var (start, end) in run.Stretches(TruthKind.Motion))
                Assert.True(Enumerable.Range(start, Math.Min(end + 30, run.Run.Seconds) - start).Min(t => run.Truth(t).SiteSaturationPercent) < 88, $"struggle at {start}");
            var truly = run.Seconds.Where(t => run.Truth(t).SiteSaturationPercent < 88).ToList();
            Assert.True(truly.Count > 90, $"{truly.Count} s");
            int seen = truly.Count(t => run.Shown(t) < 90);
            Assert.True(seen < truly.Count / 4, $"{seen} of {truly.Count} s are on the screen");
            Assert.Equal(0, run.Count(AlarmCondition.SpO2Low));
            Assert.True(run.Count(AlarmCondition.NoReading) >= run.Stretches(TruthKind.Motion).Count());
        }
    }

    [Fact]
    public void A_slipped_sensor_reads_low_and_steady_while_the_patient_is_well()
    {
        foreach (var run in Rehearsed.Of("sensor-slipped"))
        {
            Assert.True(run.Run.Patient.Min(m => m.SiteSaturationPercent) > 95);
            var slipped = Enumerable.Range(640, 540).ToList();
            Assert.All(slipped, t => Assert.InRange(run.Shown(t)!.Value, 87, 93));
            Assert.True(slipped.Average(t => run.Shown(ChannelKind.PerfusionIndex, t)!.Value) < 0.7 * slipped.Average(t => run.Truth(t).PerfusionPercent));
            Assert.All(Enumerable.Range(1216, 130), t => Assert.Null(run.Shown(t)));
            Assert.Equal(1, run.Count(AlarmCondition.NoReading));
        }
    }

    [Fact]
    public void A_cold_hands_numbers_come_and_go_and_its_fall_shows_late()
    {
        foreach (var run in Rehearsed.Of("cold-hand"))
        {
            var cold = Enumerable.Range(800, 1000).ToList();
            Assert.True(cold.Average(t => run.Truth(t).PerfusionPercent) < 0.15);
            int none = cold.Count(t => run.Shown(t) is null);
            Assert.InRange(none, 20, 980);
            Assert.True(run.Count(AlarmCondition.LowPerfusion) >= 1);

            int stops = run.Stretches(TruthKind.Apnoea).Single().Start;
            int heart = run.First(stops, t => run.Truth(t).ArterialSaturationPercent < 90), hand = run.First(stops, t => run.Truth(t).SiteSaturationPercent < 90);
            Assert.True(hand - heart >= 38, $"{hand - heart} s");
            Assert.All(cold.Where(t => t < stops || t > stops + 200), t => Assert.True(run.Truth(t).SiteSaturationPercent > 93));
        }
    }

    [Fact]
    public void Lamp_light_makes_a_pulse_and_a_saturation_of_its_own()
    {
        foreach (var run in Rehearsed.Of("lamp-light"))
        {
            Assert.InRange(run.Run.Patient.Average(m => m.SiteSaturationPercent), 95, 98);
            Assert.InRange(run.Run.Patient.Average(m => m.PulseRatePerMinute), 62, 78);
            var lit = Enumerable.Range(500, 450).Where(t => run.Shown(t) is not null).ToList();
            Assert.True(lit.Count > 100);
            Assert.True(lit.Count(t => run.Shown(t) < 90) > lit.Count / 2, $"{lit.Count(t => run.Shown(t) < 90)} of {lit.Count}");
            Assert.InRange(lit.Average(t => run.Shown(ChannelKind.PulseRate, t)!.Value), 98, 115);
            // It begins and ends with the lamp.
            Assert.All(Enumerable.Range(60, 415).Concat(Enumerable.Range(980, 500)), t => Assert.True(run.Shown(t) >= 94, $"second {t}"));
        }
    }

    [Fact]
    public void A_lost_feed_hides_a_true_fall_and_signals_itself()
    {
        foreach (var run in Rehearsed.Of("feed-lost"))
        {
            var (start, end) = run.Stretches(TruthKind.FeedLost).Single();
            var hidden = Enumerable.Range(start, end - start).ToList();
            Assert.True(hidden.Min(t => run.Truth(t).SiteSaturationPercent) < 85);
            Assert.True(run.Seconds.Except(hidden).Min(t => run.Truth(t).SiteSaturationPercent) > 93);
            Assert.Equal(0, run.Count(AlarmCondition.SpO2Low));
            var stale = Assert.Single(run.Signals.Of(AlarmCondition.StaleFeed));
            Assert.InRange(stale.Start.Seconds, start, start + 15);
            // Had it arrived, there would have been a signal.
            Assert.NotEmpty(Stillwatch.Replay.Replayer.Run(run.Run.Truth, run.Run.Scenario.Preset.ToSettings()).Of(AlarmCondition.SpO2Low));
        }
    }

    [Fact]
    public void A_quiet_night_is_quiet()
    {
        foreach (var run in Rehearsed.Of("quiet-night").Take(3))
        {
            Assert.True(run.Run.Patient.Min(m => m.SiteSaturationPercent) > 94);
            double mean = run.Run.Patient.Average(m => m.SiteSaturationPercent), spread = Math.Sqrt(run.Run.Patient.Average(m => Math.Pow(m.SiteSaturationPercent - mean, 2)));
            Assert.InRange(spread, 0.1, 1);
            Assert.Equal(0, run.Count(AlarmCondition.SpO2Low));
            Assert.Equal(1, run.Count(AlarmCondition.NoReading));
            Assert.All(run.Seconds.Where(t => run.Shown(t) < 94), t => Assert.True(Enumerable.Range(t - 12, 13).Any(s => run.During(TruthKind.Motion, s)), $"second {t}"));
        }
    }
}
