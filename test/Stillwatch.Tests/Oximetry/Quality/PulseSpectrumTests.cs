using CsCheck;
using Stillwatch.Oximetry.Quality;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Oximetry.Quality;

/// <summary>Power of the last eight seconds in bins of 1/8 Hz, put together from seconds.</summary>
public sealed class PulseSpectrumTests
{
    [Fact]
    public void Seconds_put_together_give_what_a_direct_sum_over_the_tapered_window_gives() =>
        Gen.Select(Gen.Double[0.5, 7], Gen.Double[0.5, 7], Gen.OneOf(25.0, 50.0, 100.0, 125.0, 250.0), Gen.Int[0, 20]).Sample((f1, f2, rate, start) =>
        {
            var spectrum = new PulseSpectrum(rate, 40);
            double Wave(double t) => Math.Sin(2 * Math.PI * f1 * t) + 0.3 * Math.Cos(2 * Math.PI * f2 * t + 1);
            for (int s = 0; s < start + 12; s++) spectrum.Take(Second(s, rate, Wave), []);
            spectrum.Open(start + 4);
            int stride = (int)(rate / 25);
            for (int k = 4; k < PulseSpectrum.Bins - 1; k += 7) Assert.Equal(Twin(start, rate, stride, k, Wave), spectrum.Power[k], 1e-6 * spectrum.Total + 1e-9);
        }, iter: Sampling.Cases(40));

    [Fact]
    public void A_pure_wave_is_a_line_without_an_overtone_and_a_pulse_has_overtones()
    {
        var wave = Shares(t => Math.Sin(2 * Math.PI * 1.5 * t), 1.5);
        Assert.Equal(1.5, wave.PeakHz);
        Assert.True(wave.PeakOvertone < 1e-6);
        Assert.True(wave.Pulse > 0.999);
        var pulse = Shares(t => Math.Sin(2 * Math.PI * 1.5 * t) + 0.4 * Math.Sin(2 * Math.PI * 3 * t + 1), 1.5);
        Assert.Equal(0.16, pulse.PeakOvertone, 0.001);
        Assert.True(pulse.Pulse > 0.999);
        Assert.Equal(0, pulse.Line, 0.001);
    }

    [Fact]
    public void A_line_beside_the_pulse_is_found_with_its_place_its_share_and_its_colour()
    {
        // Line of a third of the pulse's amplitude: a tenth of the power. Red follows the pulse by 0.5 and the line by 1.25.
        double Pulse(double t) => Math.Sin(2 * Math.PI * 1.25 * t);
        double Line(double t) => Math.Sin(2 * Math.PI * 4.25 * t) / 3;
        var spectrum = new PulseSpectrum(125, 40, hasRed: true);
        for (int s = 0; s < 10; s++) spectrum.Take(Second(s, 125, t => Pulse(t) + Line(t)), Second(s, 125, t => 0.5 * Pulse(t) + 1.25 * Line(t)));
        spectrum.Open(5);
        var shares = spectrum.Shares(1.25);
        Assert.Equal(0.1, shares.Line, 0.002);
        Assert.Equal(0.9, shares.Pulse, 0.002);
        Assert.Equal(4.25, shares.LineHz);
        Assert.Equal(1.25, shares.LineSlope, 0.001);
        Assert.Equal(0.5, shares.PeakSlope, 0.001);
    }

    [Fact]
    public void Unrest_at_all_frequencies_is_no_line()
    {
        var random = new Stillwatch.Rehearsal.SeededRandom(12);
        double kept = 0;
        var shares = Shares(t => (kept = 0.9 * kept + random.Normal()) + Math.Sin(2 * Math.PI * 1.25 * t), 1.25);
        Assert.True(shares.Pulse < 0.6);
        Assert.True(shares.Line < 0.1);
    }

    [Fact]
    public void Size_changes_no_share_and_nothing_has_none()
    {
        double Wave(double t) => Math.Sin(2 * Math.PI * 1.1 * t) + 0.2 * Math.Sin(2 * Math.PI * 4 * t);
        Assert.Equal(Shares(Wave, 1.1).Pulse, Shares(t => 1e-4 * Wave(t), 1.1).Pulse, 1e-12);
        Assert.Equal(SpectralShares.None, Shares(_ => 0, 1.1));
        Assert.Equal(double.NaN, Shares(_ => 0, 1.1).Pulse);
    }

    [Fact]
    public void A_second_without_samples_keeps_the_others_in_step()
    {
        double Wave(double t) => Math.Sin(2 * Math.PI * 2 * t);
        var whole = new PulseSpectrum(125, 40);
        for (int s = 0; s < 10; s++)
        {
            if (s == 4) whole.Take([], []);
            else whole.Take(Second(s, 125, Wave), []);
        }

        whole.Open(5);
        Assert.Equal(2.0, whole.Shares(2).PeakHz);
        Assert.True(whole.Shares(2).Pulse > 0.8);
    }

    private static SpectralShares Shares(Func<double, double> wave, double pulseHz)
    {
        var spectrum = new PulseSpectrum(125, 40);
        for (int s = 0; s < 10; s++) spectrum.Take(Second(s, 125, wave), []);
        spectrum.Open(5);
        return spectrum.Shares(pulseHz);
    }

    private static double[] Second(int second, double rate, Func<double, double> wave) =>
        [.. Enumerable.Range(0, (int)rate).Select(i => wave(second + i / rate))];

    private static double Twin(int start, double rate, int stride, int bin, Func<double, double> wave)
    {
        double re = 0, im = 0;
        int total = 8 * (int)rate, before = start * (int)rate;
        for (int i = 0; i < total; i++)
        {
            if ((before + i) % stride != 0) continue;
            double t = i / rate, taper = 0.5 - 0.5 * Math.Cos(2 * Math.PI * t / 8);
            re += taper * wave(start + t) * Math.Cos(2 * Math.PI * bin * t / 8);
            im += taper * wave(start + t) * Math.Sin(2 * Math.PI * bin * t / 8);
        }

        return re * re + im * im;
    }
}
