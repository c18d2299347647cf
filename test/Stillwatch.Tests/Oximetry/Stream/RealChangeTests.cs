using CsCheck;
using Stillwatch.Oximetry;
using Stillwatch.Oximetry.Calibration;
using Stillwatch.Rehearsal.Scenarios;
using Stillwatch.Rehearsal.Sensor;
using Stillwatch.Signals;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Oximetry.Stream;

/// <summary>
/// A real change in the patient is refused for seconds, never for good: what was trusted before may not decide for ever what is trusted next.
/// </summary>
public sealed class RealChangeTests
{
    private const int RateHz = 125;
    private const int ChangeAtSecond = 40;
    private const double WaitSeconds = 12; // the averaging window must leave the old behind (4 s), then eight steady seconds
    private const double WaitBeats = 12; // what a usual beat is is learnt anew in so many: some twenty seconds in all at 72 a minute
    private const double LeastPerfusionPercent = 0.1; // below it noise may well hide the pulse
    private const int LongestRefusalSeconds = 20;
    private const int LongestRefusalNewbornSeconds = 60; // breaths of 50 a minute lie in the band of the pulse, and at times look like movement

    // from what | to what: ratio, perfusion %, brightness of the light | seconds of movement between
    private const string Steps = """
        the blood becomes darker                     | 0.5 1 1    | 0.8 1 1    | 0
        the blood becomes brighter                   | 1.2 1 1    | 0.5 1 1    | 0
        the blood becomes darker behind movement     | 0.5 1 1    | 0.8 1 1    | 20
        the blood becomes brighter behind movement   | 1.2 2 1    | 0.5 2 1    | 20
        a warm hand                                  | 0.6 0.5 1  | 0.6 2 1    | 0
        a warm hand behind movement                  | 0.6 0.5 1  | 0.6 2 1    | 20
        a cold hand                                  | 0.6 3 1    | 0.6 0.5 1  | 0
        a brighter place                             | 0.6 1 0.5  | 0.6 1 1    | 10
        a place of a twentieth of the light          | 0.6 1 1    | 0.6 1 0.05 | 10
        a place of a hundredth of the light          | 0.6 1 1    | 0.6 1 0.01 | 10
        all at once                                  | 0.5 0.5 1  | 0.9 2.5 2  | 20
        """;

    public static TheoryData<string> Rows => [.. Steps.Split('\n')];

    [Theory, MemberData(nameof(Rows))]
    public void After_a_step_the_new_numbers_are_shown_within_some_twenty_seconds_and_are_right(string row)
    {
        string[] cells = row.Split('|', StringSplitOptions.TrimEntries);
        HoldsAfterStep(Numbers(cells[1]), Numbers(cells[2]), int.Parse(cells[3]), perMinute: 72, seed: 3);
    }

    [Fact]
    public void Whatever_the_step_is_the_wait_is_bounded() =>
        Gen.Select(Gen.Double[0.4, 1.6], Gen.Double[0.4, 1.6], Gen.Double[0.4, 4], Gen.Double[0.4, 4], Gen.Int[45, 150], Gen.OneOf(Gen.Const(0), Gen.Const(8), Gen.Const(20), Gen.Const(45)), Gen.Int[1, 1000])
            .Sample((ratio, nextRatio, perfusion, nextPerfusion, perMinute, moves, seed) => HoldsAfterStep([ratio, perfusion, 1], [nextRatio, nextPerfusion, 1], moves, perMinute, seed), iter: Sampling.Cases(60));

    [Fact]
    public void In_each_rehearsal_undisturbed_seconds_carry_numbers_and_no_refusal_in_them_is_long()
    {
        var runs = from scenario in RehearsalScenarios.All from seed in Enumerable.Range(51, Environment.GetEnvironmentVariable("STILLWATCH_FULL") == "1" ? 20 : 2) select (scenario, (ulong)seed);
        var told = runs.AsParallel().Select(r => Undisturbed(r.scenario, r.Item2)).ToList();
        Assert.All(told, t => Assert.True(t.Shown >= t.LeastShown && t.Longest <= t.LongestAllowed, $"{t.Name}, seed {t.Seed}: {t.Shown:0.0} % shown, longest refusal {t.Longest} s from {t.At} s"));
        Assert.All(told, t => Assert.True(t.Arms <= 1, $"{t.Name}, seed {t.Seed}: Arms {t.Arms:0.00} %"));
    }

    private static void HoldsAfterStep(double[] before, double[] after, int movesSeconds, double perMinute, int seed)
    {
        int steady = ChangeAtSecond + movesSeconds, seconds = steady + 60;
        var random = new Random(seed);
        var (infrared, red) = (new double[seconds * RateHz], new double[seconds * RateHz]);
        double sway = 0;
        for (int i = 0; i < infrared.Length; i++)
        {
            double t = (double)i / RateHz;
            double[] now = t < ChangeAtSecond ? before : after;
            double pulse = now[1] / 100 * PlainLight.Pulse(t * perMinute / 60);
            sway = 0.97 * sway + random.NextDouble() - 0.5;
            double moved = t >= ChangeAtSecond && t < steady ? 0.01 * sway : 0;
            infrared[i] = 80_000 * now[2] * Math.Exp(-pulse - moved);
            red[i] = 50_000 * now[2] * Math.Exp(-now[0] * pulse - 0.95 * moved);
        }

        var heard = Heard.Of(Heard.TwoLights(RateHz), infrared, red);
        Assert.Equal(LightState.Valid, heard.Seconds[ChangeAtSecond - 10].State);
        int from = steady + (int)Math.Ceiling(WaitSeconds + WaitBeats * 60 / perMinute);
        for (int second = from; second < seconds - 5; second++) // the last beats have no neighbour
        {
            var s = heard.Seconds[second];
            Assert.True(s.State == LightState.Valid, $"{second - steady} s after the change: {s.State}");
            Assert.Equal(CalibrationCurve.Linear.SaturationPercent(after[0]), s.SpO2Percent, 1.0);
            Assert.Equal(perMinute, s.PulseRatePerMinute, 1.0);
        }
    }

    private static Told Undisturbed(RehearsalScenario scenario, ulong seed)
    {
        var run = scenario.Run(seed, Math.Min(scenario.DurationSeconds, 2400));
        bool isNewborn = scenario.Category is PatientCategory.NeonatalOnOxygen or PatientCategory.NeonatalOnAir;
        var light = RehearsalLight.Record(run.Patient, run.Sensor, isNewborn ? OpticalSensorSettings.Newborn : OpticalSensorSettings.Default, seed);
        var derived = Derivation.Of(light.Recording, new OximetrySettings { Curve = CalibrationCurves.Find("beer-lambert-a-660-940")! });
        int quiet = 0, shown = 0, refused = 0, longest = 0, at = 0;
        double squares = 0;
        for (int second = 0; second < run.Seconds; second++)
        {
            if (run.Patient[second].PerfusionPercent < LeastPerfusionPercent || light.Disturbances.Skip(second * RateHz).Take(RateHz).Any(d => d != Disturbances.None))
            {
                refused = 0;
                continue;
            }

            quiet++;
            double error = derived.Seconds[second].SpO2Percent - light.SaturationPercent[second * RateHz + RateHz / 2];
            if (double.IsNaN(error))
            {
                if (++refused > longest) (longest, at) = (refused, second - refused + 1);
                continue;
            }

            refused = 0;
            shown++;
            squares += error * error;
        }

        // A preterm heart that goes from 70 to 150 a minute in ten seconds is not told from movement while it does so, every pause anew.
        double least = scenario.Name == "preterm-periodic-breathing" ? 75 : 90;
        return new Told(scenario.Name, seed, 100.0 * shown / quiet, least, longest, isNewborn ? LongestRefusalNewbornSeconds : LongestRefusalSeconds, at, Math.Sqrt(squares / shown));
    }

    private static double[] Numbers(string cell) => [.. cell.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(double.Parse)];

    private sealed record Told(string Name, ulong Seed, double Shown, double LeastShown, int Longest, int LongestAllowed, int At, double Arms);
}
