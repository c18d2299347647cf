using CsCheck;
using Stillwatch.Oximetry.Ratio;
using Stillwatch.Rehearsal;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Oximetry.Ratio;

/// <summary>Beats put together over the averaging window.</summary>
public sealed class RatioWindowTests
{
    [Fact]
    public void Beats_that_all_have_the_ratio_k_give_exactly_k() =>
        Gen.Select(Gen.Double[0.2, 4], Gen.Int[1, 12]).Sample((k, beats) =>
        {
            var window = new RatioWindow(8);
            double[] infrared = InventedBeats.Beat();
            double[] red = [.. infrared.Select(x => k * x)];
            for (int i = 0; i < beats; i++) window.Add(i * 0.6, BeatRatios.Of(infrared, red, InventedBeats.PeakOf(infrared), 1), 0.5 + 0.04 * i);
            var combined = window.Combine(-1, beats * 0.6);
            Assert.Equal(k, combined.Ratio, 1e-12 * k);
            Assert.Equal(beats, combined.Beats);
        }, iter: Sampling.Cases(100));

    /// <summary>
    /// What one wild beat among eight does depends on chance: where the seven others happen to agree closely, a beat just inside what is still believed moves
    /// them by several of their own spreads. So the draws are fixed and the figures are of all of them; 0.02 of ratio is half a percent of SpO2 on any curve.
    /// </summary>
    [Fact]
    public void One_wild_beat_moves_the_ratio_by_less_than_a_hundredth_and_at_worst_by_half_a_percent_of_SpO2()
    {
        const int draws = 4000;
        var random = new SeededRandom(20261130);
        double[] moved = new double[draws], movedPlainMean = new double[draws];
        for (int n = 0; n < draws; n++)
        {
            ulong seed = (ulong)random.Index(1_000_000_000);
            int wildIndex = random.Index(8);
            double wildRatio = random.Between(0.1, 5), wildSize = random.Between(0.1, 30);
            var quiet = new RatioWindow(8);
            var disturbed = new RatioWindow(8);
            double plainBefore = 0, plainAfter = 0;
            for (int i = 0; i < 8; i++)
            {
                var (infrared, red) = BeatRatiosTests.Noisy(unchecked(seed + (ulong)i), 0.7, 0.005);
                var beat = BeatRatios.Of(infrared, red, InventedBeats.PeakOf(infrared), 1);
                double[] wild = InventedBeats.Beat(125, wildSize);
                var instead = i == wildIndex ? BeatRatios.Of(wild, [.. wild.Select(x => wildRatio * x)], InventedBeats.PeakOf(wild), 1) : beat;
                quiet.Add(i, beat, 1);
                disturbed.Add(i, instead, 1);
                plainBefore += beat.Slope / 8;
                plainAfter += instead.Slope / 8;
            }

            moved[n] = Math.Abs(disturbed.Combine(-1, 7.9).Ratio - quiet.Combine(-1, 7.9).Ratio);
            movedPlainMean[n] = Math.Abs(plainAfter - plainBefore);
        }

        Array.Sort(moved);
        Array.Sort(movedPlainMean);
        Assert.True(moved[draws / 2] < 0.0015, $"median {moved[draws / 2]}");
        Assert.True(moved[draws * 99 / 100] < 0.006, $"ninety-nine of a hundred {moved[draws * 99 / 100]}");
        Assert.True(moved[^1] < 0.02, $"worst {moved[^1]}");
        Assert.True(movedPlainMean[draws / 2] > 0.2, $"a plain mean would have moved by {movedPlainMean[draws / 2]}");
    }

    [Fact]
    public void A_beat_of_no_quality_or_without_a_ratio_is_left_out()
    {
        var window = new RatioWindow(8);
        var (infrared, red) = BeatRatiosTests.Noisy(1, 0.7, 0);
        window.Add(0.5, BeatRatios.Of(infrared, red, InventedBeats.PeakOf(infrared), 1), 1);
        window.Add(1.0, BeatRatios.Of(infrared, infrared, InventedBeats.PeakOf(infrared), 1), 0);
        window.Add(1.5, BeatRatio.None, 1);
        var combined = window.Combine(-1, 2);
        Assert.Equal(1, combined.Beats);
        Assert.Equal(0.7, combined.Ratio, 1e-9);
        Assert.Equal(double.NaN, combined.Spread);
    }

    [Fact]
    public void Only_beats_within_the_window_count_and_later_ones_wait()
    {
        var window = new RatioWindow(4);
        var (infrared, red) = BeatRatiosTests.Noisy(2, 0.7, 0);
        for (int i = 0; i < 10; i++) window.Add(i, BeatRatios.Of(infrared, red, InventedBeats.PeakOf(infrared), 1), 1);
        Assert.Equal(4, window.Combine(2, 6).Beats); // 3, 4, 5, 6
        Assert.Equal(4, window.Combine(5, 9).Beats); // 6, 7, 8, 9
        Assert.Equal(0, window.Combine(9, 13).Beats);
        Assert.Equal(double.NaN, window.Combine(9, 13).Ratio);
    }

    [Fact]
    public void Better_beats_weigh_more()
    {
        var window = new RatioWindow(8);
        double[] infrared = InventedBeats.Beat();
        for (int i = 0; i < 8; i++)
        {
            double ratio = i % 2 == 0 ? 0.6 : 0.62;
            window.Add(i, BeatRatios.Of(infrared, [.. infrared.Select(x => ratio * x)], InventedBeats.PeakOf(infrared), 1), i % 2 == 0 ? 1 : 0.3);
        }

        Assert.InRange(window.Combine(-1, 7.9).Ratio, 0.5999, 0.604);
    }

    [Fact]
    public void The_stated_error_is_about_as_large_as_the_true_one()
    {
        var errors = new List<double>();
        var stated = new List<double>();
        for (int run = 0; run < 300; run++)
        {
            var window = new RatioWindow(8);
            for (int i = 0; i < 8; i++)
            {
                var (infrared, red) = BeatRatiosTests.Noisy((ulong)(1000 + run * 8 + i), 0.7, 0.05);
                window.Add(i, BeatRatios.Of(infrared, red, InventedBeats.PeakOf(infrared), 1), 1);
            }

            var combined = window.Combine(-1, 7.9);
            errors.Add(combined.Ratio - 0.7);
            stated.Add(combined.Spread);
        }

        double real = Math.Sqrt(errors.Average(e => e * e)), said = Math.Sqrt(stated.Average(s => s * s));
        Assert.InRange(said / real, 0.6, 1.6);
        Assert.True(Math.Abs(errors.Average()) < 0.005, $"bias {errors.Average()}");
    }

    [Fact]
    public void More_beats_than_it_can_hold_push_out_the_oldest()
    {
        var window = new RatioWindow(2);
        var (infrared, red) = BeatRatiosTests.Noisy(3, 0.7, 0);
        var beat = BeatRatios.Of(infrared, red, InventedBeats.PeakOf(infrared), 1);
        for (int i = 0; i < 1000; i++) window.Add(i * 0.001, beat, 1);
        Assert.Equal(0.7, window.Combine(-1, 1).Ratio, 1e-9);
        window.Reset();
        Assert.Equal(0, window.Combine(-1, 1).Beats);
    }
}
