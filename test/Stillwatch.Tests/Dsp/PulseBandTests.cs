using Stillwatch.Dsp;

namespace Stillwatch.Tests.Dsp;

/// <summary>What passes the pulse's band, and what does not.</summary>
public class PulseBandTests
{
    /// <summary>The formula of the band where 0.1 s and 1 s are whole numbers of samples; means of even length count their two ends half.</summary>
    private static double Gain(double hertz, double rateHz) => Math.Pow(Mean(hertz, rateHz, 0.1), 2) * (1 - Math.Pow(Mean(hertz, rateHz, 1), 2));

    private static double Mean(double hertz, double rateHz, double seconds)
    {
        double length = seconds * rateHz;
        int core = (int)length % 2 == 1 ? (int)length : (int)length - 1;
        double sum = 1;
        for (int i = 1; i <= (core - 1) / 2; i++) sum += 2 * Math.Cos(2 * Math.PI * hertz * i / rateHz);
        return (sum + (length - core) * Math.Cos(Math.PI * hertz * (core + 1) / rateHz)) / length;
    }

    [Theory]
    [InlineData(100)]
    [InlineData(125)]
    [InlineData(250)]
    [InlineData(25)]
    [InlineData(31.25)]
    [InlineData(500)]
    public void Every_frequency_passes_as_the_formula_says_and_none_is_shifted(double rateHz)
    {
        foreach (double hertz in new[] { 0.1, 0.3, 0.5, 0.75, 1, 1.5, 2, 3, 4, 6, 8, 10 })
        {
            var band = new PulseBand(rateHz);
            var samples = Enumerable.Range(0, (int)(8 * rateHz)).Select(i => Math.Sin(2 * Math.PI * hertz * i / rateHz)).ToArray();
            var output = new double[samples.Length];
            band.Push(samples, output);
            double gain = Gain(hertz, rateHz);
            for (int i = 2 * band.DelaySamples; i < samples.Length; i++) Assert.Equal(gain * samples[i - band.DelaySamples], output[i], 1e-9);
        }
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(1, 0.967)] // sinc²(0.1) · (1 − sinc²(1))
    [InlineData(0.5, 0.590)]
    [InlineData(4, 0.567)] // sinc²(0.4), and a little less for the ends of an even mean
    [InlineData(0.25, 0.188)]
    public void The_gain_at_a_few_frequencies_is_what_the_page_says(double hertz, double expected) => Assert.Equal(expected, Gain(hertz, 100), 0.002);

    [Theory]
    [InlineData(100, 50, 1e-12)]
    [InlineData(500, 50, 1e-12)]
    [InlineData(500, 60, 1e-12)]
    [InlineData(500, 100, 1e-12)]
    [InlineData(500, 120, 1e-12)]
    [InlineData(250, 50, 1e-12)]
    [InlineData(250, 60, 1e-12)]
    [InlineData(125, 50, 1e-3)] // 0.1 s is 12.5 samples: nearly
    [InlineData(125, 60, 1e-2)]
    public void Lamps_on_the_mains_do_not_pass(double rateHz, double hertz, double most)
    {
        Assert.InRange(Math.Abs(Gain(hertz, rateHz)), 0, most);
    }

    [Fact]
    public void A_steady_light_and_a_slope_leave_nothing()
    {
        var band = new PulseBand(125);
        var samples = Enumerable.Range(0, 2000).Select(i => 3 + 0.01 * i).ToArray();
        var output = new double[samples.Length];
        band.Push(samples, output);
        Assert.All(output.Skip(2 * band.DelaySamples), v => Assert.Equal(0, v, 1e-12));
    }
}
