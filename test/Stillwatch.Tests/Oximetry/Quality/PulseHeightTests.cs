using Stillwatch.Oximetry;
using Stillwatch.Oximetry.Quality;
using Stillwatch.Rehearsal.Sensor;

namespace Stillwatch.Tests.Oximetry.Quality;

/// <summary>Perfusion index: trough to peak in the light itself, over the mean light.</summary>
public class PulseHeightTests
{
    /// <summary>What it shows | beats a minute | perfusion % put in | noise % | within this share of it.</summary>
    private const string Table = """
        slow heart                      |  40 | 1.0 | 0    | 0.05
        adult at rest                   |  72 | 1.0 | 0    | 0.05
        well perfused                   |  72 | 5.0 | 0.01 | 0.05
        fast heart                      | 130 | 1.0 | 0.01 | 0.05
        as fast as a newborn's          | 160 | 1.0 | 0.01 | 0.06
        weak, with the usual noise      |  72 | 0.3 | 0.01 | 0.10
        weak and fast                   | 130 | 0.3 | 0.01 | 0.10
        """;

    public static TheoryData<string> Rows => [.. Table.Split('\n', StringSplitOptions.RemoveEmptyEntries)];

    [Theory]
    [MemberData(nameof(Rows))]
    public void Perfusion_comes_out_as_it_was_put_in_however_fast_the_heart(string row)
    {
        string[] cells = row.Split('|', StringSplitOptions.TrimEntries);
        double asked = double.Parse(cells[2]);
        var trial = new SensorTrial { Seconds = 40, PulseRatePerMinute = double.Parse(cells[1]), PerfusionPercent = asked };
        var light = trial.Light(OpticalSensorSettings.Ideal with { NoisePercent = double.Parse(cells[3]) }, 11);

        var derived = Derivation.Of(light.Recording, new OximetrySettings());

        double share = double.Parse(cells[4]);
        Assert.InRange(derived.Seconds[20].PerfusionPercent, asked * (1 - share), asked * (1 + share));
    }

    [Fact]
    public void The_published_example_gives_its_perfusion()
    {
        // Pulse 1.2 over a mean of 80 is 1.5 % (arithmetic of the definition of Lima, Beelen and Bakker, Crit Care Med 2002;30:1210).
        double[] light = [80.6, 80.4, 80.2, 80, 79.8, 79.6, 79.4, 79.6, 79.8, 80, 80.2, 80.4, 80.6];
        Assert.Equal(1.5, 100 * PulseHeight.Share(light, 6, 25), 0.005);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(1000)]
    public void A_brighter_lamp_and_a_wandering_level_change_nothing(double brightness)
    {
        // A raised cosine: its feet are round, as those of pulses are; 0.8 over a mean of 79.6 (and of 79.7 where the level rises by 0.2).
        double[] Pulse(double drift) =>
            [.. Enumerable.Range(0, 101).Select(i => brightness * (80 + drift * i - 0.4 * (1 - Math.Cos(2 * Math.PI * i / 100))))];
        Assert.Equal(0.8 / 79.6, PulseHeight.Share(Pulse(0), 50, 100), 1e-4);
        Assert.Equal(0.8 / 79.7, PulseHeight.Share(Pulse(0.002), 50, 100), 1e-4);
    }

    [Fact]
    public void A_foot_sharper_than_any_pulse_has_is_read_a_thirtieth_low()
    {
        // Half a sine, cut off at its steepest: smoothing over 0.04 s takes off what the mean of sin over the first 0.02 s is, 3.1 % of the height.
        double[] pulse = [.. Enumerable.Range(0, 101).Select(i => 80 - 0.8 * Math.Sin(Math.PI * i / 100))];
        double mean = pulse.Average();
        Assert.InRange(PulseHeight.Share(pulse, 50, 100) / (0.8 / mean), 0.96, 0.975);
    }

    [Theory]
    [InlineData(new double[] { 5, 5, 5, 5, 5 }, 2)]
    [InlineData(new double[] { 4, 5, 6, 5, 4 }, 2)]
    [InlineData(new double[] { 1, double.NaN, 0, 1, 1 }, 2)]
    [InlineData(new double[] { 0, 0, -3, 0, 0 }, 2)]
    public void What_is_no_pulse_in_light_has_no_height(double[] light, int peakIndex) => Assert.True(double.IsNaN(PulseHeight.Share(light, peakIndex, 25)));
}
