using CsCheck;
using Stillwatch.Dsp;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Dsp;

public sealed class PowerSpectrumTests
{
    private static readonly Gen<(double[] Values, int Points)> Stretches =
        Gen.Select(Gen.Double[-10, 10].Array[2, 128], Gen.OneOf(Gen.Const(128), Gen.Const(256), Gen.Const(512)));

    /// <summary>The discrete transform by its definition, a sum of cosines and sines for each bin.</summary>
    [Fact]
    public void The_fast_transform_is_the_slow_one() =>
        Stretches.Sample(s =>
        {
            var (values, points) = s;
            int n = values.Length;
            var windowed = values.Select((v, i) => v * (0.53836 - 0.46164 * Math.Cos(2 * Math.PI * i / (n - 1)))).ToArray();
            double windowPower = Enumerable.Range(0, n).Sum(i => Math.Pow(0.53836 - 0.46164 * Math.Cos(2 * Math.PI * i / (n - 1)), 2));
            double[] power = Of(values, points);
            for (int k = 0; k < power.Length; k++)
            {
                double real = windowed.Select((v, i) => v * Math.Cos(2 * Math.PI * k * i / points)).Sum();
                double imaginary = windowed.Select((v, i) => v * Math.Sin(2 * Math.PI * k * i / points)).Sum();
                double sides = k == 0 || k == points / 2 ? 1 : 2;
                Assert.Equal(sides * (real * real + imaginary * imaginary) / (points * windowPower), power[k], 1e-9 * (1 + windowPower * 100));
            }
        }, iter: Sampling.Cases(50));

    /// <summary>Parseval's theorem.</summary>
    [Fact]
    public void All_bins_together_hold_the_mean_square() =>
        Stretches.Sample(s =>
        {
            var (values, points) = s;
            var window = MathNet.Numerics.Window.Hamming(values.Length);
            double expected = values.Zip(window, (v, w) => v * v * w * w).Sum() / window.Sum(w => w * w);
            Assert.Equal(expected, Of(values, points).Sum(), 1e-9 * (1 + expected));
        }, iter: Sampling.Cases(300));

    [Theory]
    [InlineData(0.1)]
    [InlineData(0.25)]
    [InlineData(1.07)]
    public void A_steady_oscillation_stands_at_its_frequency_with_half_its_amplitude_squared(double hertz)
    {
        var values = Enumerable.Range(0, 128).Select(i => 3 * Math.Sin(2 * Math.PI * hertz * i / 4 + 1)).ToArray();
        var spectrum = new PowerSpectrum(128, 512);
        double[] power = Of(values, 512);
        int peak = Array.IndexOf(power, power.Max());
        Assert.InRange(spectrum.HertzOf(peak, 4), hertz - 0.005, hertz + 0.005);
        Assert.Equal(peak, spectrum.BinOf(spectrum.HertzOf(peak, 4), 4), 9);
        Assert.InRange(power[Math.Max(0, peak - 12)..(peak + 13)].Sum(), 0.96 * 4.5, 1.04 * 4.5);
    }

    [Fact]
    public void One_sample_without_a_number_leaves_none()
    {
        double[] values = [.. Enumerable.Range(0, 100).Select(i => i == 40 ? double.NaN : i)];
        Assert.All(Of(values, 128), p => Assert.True(double.IsNaN(p)));
    }

    [Theory]
    [InlineData(1, 128)]
    [InlineData(100, 64)]
    [InlineData(100, 130)]
    public void Lengths_that_make_no_sense_are_refused(int samples, int points) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new PowerSpectrum(samples, points));

    private static double[] Of(double[] values, int points)
    {
        var spectrum = new PowerSpectrum(values.Length, points);
        var power = new double[spectrum.Bins];
        spectrum.Of(values, power);
        return power;
    }
}
