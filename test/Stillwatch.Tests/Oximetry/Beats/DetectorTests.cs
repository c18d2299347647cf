using CsCheck;
using Stillwatch.Dsp;
using Stillwatch.Oximetry;
using Stillwatch.Oximetry.Beats;
using Stillwatch.Tests.Alarms;
using Stillwatch.Tests.Oximetry.Stream;

namespace Stillwatch.Tests.Oximetry.Beats;

/// <summary>What holds of every detector, whatever its method.</summary>
public class DetectorTests
{
    private static readonly BeatMethod[] Methods = [BeatMethod.SlopeSum, BeatMethod.PeaksAndTroughs, BeatMethod.Threshold];

    private static readonly Gen<BeatMethod> AnyMethod = Gen.Int[0, 2].Select(i => Methods[i]);

    public static TheoryData<BeatMethod> All => [.. Methods];

    private static readonly Gen<double[]> Series = Gen.Select(Gen.Int[1, 900], Gen.Int[0, 1000], Gen.Double[0, 2]).Select((length, seed, noise) =>
    {
        var random = new Random(seed);
        return Enumerable.Range(0, length).Select(i => PlainLight.Pulse(i / 50.0 * 1.3) + noise * (random.NextDouble() - 0.5)).ToArray();
    });

    [Fact]
    public void Any_cutting_of_a_segment_gives_the_same_pulses() =>
        Gen.Select(Series, Gen.Int[1, 200].Array[1, 6], AnyMethod).Sample((series, cuts, method) =>
            Assert.Equal(Find(method, series, [series.Length]), Find(method, series, cuts)), iter: Sampling.Cases(300));

    [Fact]
    public void A_reset_forgets_all() =>
        Gen.Select(Series, Series, AnyMethod).Sample((before, series, method) =>
        {
            var detector = BeatDetectors.Create(method, 50);
            detector.Reset();
            detector.Push(before, new PulseList());
            detector.Reset();
            var found = new PulseList();
            detector.Push(series, found);
            detector.End(found);
            Assert.Equal(Find(method, series, [series.Length]), found.Marks.ToArray());
        }, iter: Sampling.Cases(150));

    [Fact]
    public void Pulses_come_in_order_each_rising_from_its_trough_to_its_peak() =>
        Gen.Select(Series, AnyMethod).Sample((series, method) =>
        {
            long last = -1;
            foreach (var mark in Find(method, series, [series.Length]))
            {
                Assert.True(mark.TroughIndex > last && mark.PeakIndex > mark.TroughIndex && mark.PeakIndex < series.Length);
                Assert.True(series[mark.PeakIndex] > series[mark.TroughIndex]);
                last = mark.PeakIndex;
            }
        }, iter: Sampling.Cases(300));

    [Fact]
    public void Larger_or_smaller_the_pulses_are_the_same() =>
        Gen.Select(Series, Gen.Int[-30, 30], AnyMethod).Sample((series, power, method) =>
        {
            var scaled = series.Select(v => v * Math.ScaleB(1, power)).ToArray();
            Assert.Equal(Find(method, series, [series.Length]), Find(method, scaled, [series.Length]));
        }, iter: Sampling.Cases(150));

    [Fact]
    public void Whatever_comes_no_pulse_is_told_later_than_promised() =>
        Gen.Select(Series, AnyMethod).Sample((series, method) =>
        {
            var detector = BeatDetectors.Create(method, 50);
            detector.Reset();
            var found = new PulseList();
            for (int i = 0; i < series.Length; i++)
            {
                int before = found.Count;
                detector.Push(series.AsSpan(i, 1), found);
                foreach (var mark in found.Marks[before..]) Assert.InRange(i - mark.PeakIndex, 0, Math.Max(detector.LatencySamples, 100));
            }
        }, iter: Sampling.Cases(100));

    [Theory, MemberData(nameof(All))]
    public void A_pulse_is_told_as_soon_as_the_detector_promises(BeatMethod method)
    {
        const double rateHz = 50;
        var detector = BeatDetectors.Create(method, rateHz);
        detector.Reset();
        var found = new PulseList();
        for (int i = 0; i < 3000; i++)
        {
            int before = found.Count;
            detector.Push([PlainLight.Pulse(i / rateHz * 1.2) - 0.3], found);
            foreach (var mark in found.Marks[before..]) Assert.InRange(i - mark.PeakIndex, 0, Math.Max(detector.LatencySamples, 2 * rateHz));
        }

        Assert.InRange(found.Count, 65, 72); // 72 beats, the last of them not certain yet
    }

    [Theory, MemberData(nameof(All))]
    public void Where_nothing_moves_there_is_no_pulse(BeatMethod method) => Assert.Empty(Find(method, new double[2000], [100]));

    [Theory, MemberData(nameof(All))]
    public void After_a_still_stretch_the_pulse_is_found_again(BeatMethod method)
    {
        var series = Enumerable.Range(0, 3000).Select(i => i < 1000 ? 0 : PlainLight.Pulse((i - 1000) / 50.0) - 0.3).ToArray();
        Assert.InRange(Find(method, series, [64]).Count(m => m.TroughIndex >= 1250), 33, 36);
    }

    [Fact]
    public void The_slope_sum_is_the_sum_of_the_rises_of_its_window_looked_up_anew_each_time() =>
        Series.Sample(series => Assert.Equal(SlopeSumTwin.Find(series, 50), Find(BeatMethod.SlopeSum, series, [37])), iter: Sampling.Cases(200));

    private static PulseMark[] Find(BeatMethod method, double[] series, int[] cuts)
    {
        var detector = BeatDetectors.Create(method, 50);
        detector.Reset();
        var found = new PulseList();
        for (int at = 0, n = 0; at < series.Length; n++)
        {
            int count = Math.Min(cuts[n % cuts.Length], series.Length - at);
            detector.Push(series.AsSpan(at, count), found);
            at += count;
        }

        detector.End(found);
        return found.Marks.ToArray();
    }
}
