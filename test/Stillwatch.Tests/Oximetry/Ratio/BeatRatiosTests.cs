using CsCheck;
using Stillwatch.Oximetry.Ratio;
using Stillwatch.Rehearsal;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Oximetry.Ratio;

/// <summary>The two estimates of one beat's ratio: identities, slow twins, and what noise does to them.</summary>
public sealed class BeatRatiosTests
{
    [Fact]
    public void Red_that_is_k_times_infrared_has_the_ratio_k_by_both_estimates() =>
        Gen.Select(Gen.Double[0.2, 4], Gen.Int[20, 300], Gen.Double[0.0005, 0.1]).Sample((k, samples, amplitude) =>
        {
            double[] infrared = InventedBeats.Beat(samples, amplitude);
            var beat = BeatRatios.Of(infrared, [.. infrared.Select(x => k * x)], InventedBeats.PeakOf(infrared), 1);
            Assert.Equal(k, beat.PeakTrough, 1e-12 * k);
            Assert.Equal(k, beat.Slope, 1e-12 * k);
        }, iter: Sampling.Cases(300));

    [Fact]
    public void Level_and_size_of_the_light_do_not_change_the_ratio() =>
        Gen.Select(Gen.ULong, Gen.Double[-1, 1], Gen.Double[-1, 1], Gen.Double[0.1, 10]).Sample((seed, levelX, levelY, size) =>
        {
            var (infrared, red) = Noisy(seed, 0.6, 0.05);
            int peak = InventedBeats.PeakOf(infrared);
            var plain = BeatRatios.Of(infrared, red, peak, 2);
            var other = BeatRatios.Of([.. infrared.Select(x => size * x + levelX)], [.. red.Select(y => size * y + levelY)], peak, 2);
            Assert.Equal(plain.PeakTrough, other.PeakTrough, 1e-9);
            Assert.Equal(plain.Slope, other.Slope, 1e-9);
        }, iter: Sampling.Cases(200));

    [Fact]
    public void A_drift_that_is_a_straight_line_does_not_change_peak_over_trough()
    {
        double[] infrared = InventedBeats.Beat();
        int peak = InventedBeats.PeakOf(infrared);
        var drifting = BeatRatios.Of(
            [.. infrared.Select((x, i) => x + 0.01 * i)], [.. infrared.Select((x, i) => 0.7 * x - 0.02 * i)], peak, 1);
        Assert.Equal(0.7, drifting.PeakTrough, 1e-12);
    }

    [Fact]
    public void The_sums_agree_with_a_loop_over_all_pairs_of_samples() =>
        Gen.ULong.Sample(seed =>
        {
            var (infrared, red) = Noisy(seed, 0.8, 0.1);
            var sums = BeatRatios.Sums(infrared, red);
            var twin = TwinSums(infrared, red);
            Assert.Equal(twin.Xx, sums.Xx, 1e-9 * twin.Xx);
            Assert.Equal(twin.Xy, sums.Xy, 1e-9 * twin.Xx);
            Assert.Equal(twin.Yy, sums.Yy, 1e-9 * twin.Yy);
            Assert.Equal(twin.Xy / Math.Sqrt(twin.Xx * twin.Yy), sums.Correlation, 1e-9);
        }, iter: Sampling.Cases(30));

    [Fact]
    public void The_slope_is_the_line_with_the_least_weighted_distance_found_by_trying() =>
        Gen.Select(Gen.ULong, Gen.Double[0.3, 3], Gen.Double[0.2, 5]).Sample((seed, ratio, noiseRatio) =>
        {
            var (infrared, red) = Noisy(seed, ratio, 0.1);
            double slope = BeatRatios.Of(infrared, red, InventedBeats.PeakOf(infrared), noiseRatio).Slope;
            Assert.Equal(TwinSlope(infrared, red, noiseRatio), slope, 1e-6);
        }, iter: Sampling.Cases(30));

    [Fact]
    public void The_form_without_cancellation_equals_the_textbook_form() =>
        Gen.Select(Gen.Double[0.1, 10], Gen.Double[0.1, 10], Gen.Double[0.05, 0.95], Gen.Double[0.1, 10]).Sample((xx, yy, correlation, noiseRatio) =>
        {
            double xy = correlation * Math.Sqrt(xx * yy), d = yy - noiseRatio * xx;
            double textbook = (d + Math.Sqrt(d * d + 4 * noiseRatio * xy * xy)) / (2 * xy);
            Assert.Equal(textbook, BeatRatios.Slope(new PairSums(xx, xy, yy, 9), noiseRatio), 1e-9 * textbook);
        }, iter: Sampling.Cases(500));

    [Fact]
    public void With_noise_in_both_channels_plain_least_squares_reads_low_and_this_slope_does_not()
    {
        // Pulse amplitude 1, noise 0.2 after the band-pass: far worse than a perfusion of 0.2 %. Red's noise twice infrared's.
        const double ratio = 0.9;
        double xx = 0, xy = 0, yy = 0;
        var random = new SeededRandom(41);
        for (int i = 0; i < 2000; i++)
        {
            double[] pulse = InventedBeats.Beat();
            var sums = BeatRatios.Sums(
                Sum(pulse, 1, InventedBeats.Noise(random, pulse.Length, 0.2)), Sum(pulse, ratio, InventedBeats.Noise(random, pulse.Length, 0.4)));
            xx += sums.Xx;
            xy += sums.Xy;
            yy += sums.Yy;
        }

        Assert.True(xy / xx < 0.80, $"plain least squares: {xy / xx}");
        Assert.Equal(ratio, BeatRatios.Slope(new PairSums(xx, xy, yy, 2000 * 125), 4), 0.05);
    }

    // what it is | infrared | red | peak
    private const string NoRatio = """
        too short                  | 0 1        | 0 1        | 1
        lengths differ             | 0 1 0 0    | 0 1 0      | 1
        peak at the first sample   | 1 0 0 0    | 1 0 0 0    | 0
        peak at the last sample    | 0 0 0 1    | 0 0 0 1    | 3
        nothing moves              | 1 1 1 1    | 1 1 1 1    | 1
        red runs the other way     | 0 1 0 0    | 0 -1 0 0   | 1
        a hole in infrared         | 0 NaN 0 0  | 0 1 0 0    | 1
        a hole in red              | 0 1 0 0    | 0 1 NaN 0  | 1
        """;

    [Fact]
    public void Where_there_is_no_ratio_none_is_made_up()
    {
        foreach (string row in NoRatio.Split('\n'))
        {
            string[] cells = row.Split('|', StringSplitOptions.TrimEntries);
            var beat = BeatRatios.Of(Numbers(cells[1]), Numbers(cells[2]), int.Parse(cells[3]), 1);
            Assert.True(double.IsNaN(beat.Slope), cells[0]);
        }
    }

    // lamps' light over the mean, its frequency
    [Theory]
    [InlineData(0, 0)]
    [InlineData(0.02, 50)]
    [InlineData(0.02, 60)]
    [InlineData(0.02, 100)]
    [InlineData(0.02, 120)]
    public void Noise_of_known_size_is_found_again_whatever_the_level_the_pulse_and_the_lamps(double lamps, double lampHz)
    {
        var random = new SeededRandom(42);
        var light = new double[125 * 60];
        for (int i = 0; i < light.Length; i++)
        {
            double seconds = i / 125.0;
            light[i] = 40_000 * (1 - 0.01 * Math.Sin(2 * Math.PI * 1.3 * seconds) + lamps * Math.Sin(2 * Math.PI * lampHz * seconds) + 0.0005 * random.Normal());
        }

        Assert.Equal(0.0005, Math.Sqrt(LightNoise.RelativeVariance(light, 125)), 0.00003);
    }

    [Fact]
    public void A_parabola_has_no_noise_and_half_a_second_is_needed()
    {
        Assert.Equal(0, LightNoise.RelativeVariance([.. Enumerable.Range(1, 125).Select(i => (double)i * i)], 125), 1e-15);
        Assert.Equal(double.NaN, LightNoise.RelativeVariance(new double[50], 125));
        Assert.Equal(double.NaN, LightNoise.RelativeVariance(new double[125], 125));
    }

    internal static (double[] Infrared, double[] Red) Noisy(ulong seed, double ratio, double noise)
    {
        var random = new SeededRandom(seed);
        double[] pulse = InventedBeats.Beat(100);
        return (Sum(pulse, 1, InventedBeats.Noise(random, 100, noise)), Sum(pulse, ratio, InventedBeats.Noise(random, 100, noise)));
    }

    private static double[] Sum(double[] pulse, double gain, double[] noise) => [.. pulse.Zip(noise, (p, n) => gain * p + n)];

    private static double[] Numbers(string text) => [.. text.Split(' ').Select(double.Parse)];

    private static PairSums TwinSums(double[] x, double[] y)
    {
        double xx = 0, xy = 0, yy = 0;
        for (int i = 0; i < x.Length; i++)
        {
            for (int j = 0; j < x.Length; j++)
            {
                xx += (x[i] - x[j]) * (x[i] - x[j]);
                xy += (x[i] - x[j]) * (y[i] - y[j]);
                yy += (y[i] - y[j]) * (y[i] - y[j]);
            }
        }

        double pairs = 2.0 * x.Length;
        return new PairSums(xx / pairs, xy / pairs, yy / pairs, x.Length);
    }

    /// <summary>Tries slopes ever more finely: the sum of (y − bx)²/(λ + b²) over samples about their means is least at the slope.</summary>
    private static double TwinSlope(double[] x, double[] y, double noiseRatio)
    {
        double meanX = x.Average(), meanY = y.Average(), low = 0.01, high = 20;
        for (int round = 0; round < 12; round++)
        {
            double step = (high - low) / 200;
            double best = Enumerable.Range(0, 201).Select(i => low + i * step).MinBy(b =>
            {
                double sum = 0;
                for (int i = 0; i < x.Length; i++)
                {
                    double residual = y[i] - meanY - b * (x[i] - meanX);
                    sum += residual * residual / (noiseRatio + b * b);
                }

                return sum;
            });
            (low, high) = (Math.Max(0.001, best - step), best + step);
        }

        return (low + high) / 2;
    }
}
