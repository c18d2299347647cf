using Stillwatch.Rehearsal.Sensor;
using Stillwatch.Signals;

namespace Stillwatch.Tests.Rehearsal.Sensor;

/// <summary>Steps, ends and noise of the converter, and the channels that come out of it.</summary>
public sealed class ConverterTests
{
    [Theory]
    [InlineData(8)]
    [InlineData(15)]
    [InlineData(18)]
    [InlineData(24)]
    public void Counts_stay_between_nothing_and_the_converters_end(int bits)
    {
        var light = new SensorTrial { Seconds = 20, Sensor = new() { Motion = 40 } }.Light(OpticalSensorSettings.Default with { Bits = bits }, 31);
        Assert.All(light.Red().Concat(light.Infrared()), c => Assert.InRange(c, 0, Math.Pow(2, bits) - 1));
    }

    [Fact]
    public void A_step_of_the_converter_hides_what_is_smaller()
    {
        // 10 bits: the infrared light stands at 409 counts, and a pulse of 0.1 % is less than half of one.
        var trial = new SensorTrial { Seconds = 10, PerfusionPercent = 0.1 };
        Assert.True(trial.Light(PlainTwins.Ideal with { Bits = 10 }, 31).Infrared().Distinct().Count() <= 2);
        Assert.True(trial.Light(PlainTwins.Ideal with { Bits = 18 }, 31).Infrared().Distinct().Count() > 50);
    }

    [Fact]
    public void A_cold_hands_pulse_is_resolved_by_the_usual_converter()
    {
        // At a perfusion of 0.2 %: mean pulse of two minutes, laid over each other at the true beats, with all noise on. The trial's beats
        // are alike in length, for else the mean would be blurred.
        var light = new SensorTrial { Seconds = 120, PulseRatePerMinute = 75, PerfusionPercent = 0.2, BreathEffort = 0 }.Light(OpticalSensorSettings.Default with { SlowVariation = 0 }, 31);
        Assert.InRange(MeanPulse(light, light.Infrared()), 0.0019, 0.0021);
        Assert.InRange(MeanPulse(light, light.Red()), 0.00063, 0.00073); // × 0.3395 at 97 %
    }

    [Fact]
    public void Too_bright_a_light_is_cut_and_said_to_be()
    {
        var light = new SensorTrial { Seconds = 10 }.Light(PlainTwins.Ideal with { Brightness = 2.51 }, 31);
        double end = Math.Pow(2, 24) - 1;
        double[] infrared = light.Infrared();
        Assert.Contains(end, infrared);
        Assert.True(infrared.Min() < end); // the tops alone
        for (int i = 0; i < infrared.Length; i++) Assert.Equal(infrared[i] == end, light.Disturbances[i].HasFlag(Disturbances.Clipped));
        Assert.DoesNotContain(end, light.Red());
    }

    [Fact]
    public void Brighter_lamps_change_the_level_and_no_ratio()
    {
        var trial = new SensorTrial { Seconds = 20, SaturationPercent = 88 };
        var dim = trial.Light(PlainTwins.Ideal with { Brightness = 0.5 }, 31);
        var bright = trial.Light(PlainTwins.Ideal, 31);
        Assert.All(dim.Infrared().Zip(bright.Infrared()), p => Assert.InRange(2 * p.First - p.Second, -1.5, 1.5));
        Assert.All(PlainTwins.Ratios(dim).Zip(PlainTwins.Ratios(bright)), p => Assert.InRange(p.First / p.Second, 0.9997, 1.0003));
    }

    [Theory]
    [InlineData(0.01)]
    [InlineData(0.1)]
    public void Noise_is_as_large_as_asked_for_and_unlike_in_red_and_infrared(double percent)
    {
        var light = (PlainTwins.NoPulse with { Seconds = 80 }).Light(PlainTwins.Ideal with { NoisePercent = percent }, 31);
        var (red, infrared) = (light.Red(), light.Infrared());
        Assert.InRange(100 * PlainTwins.Deviation(infrared) / infrared.Average(), percent * 0.95, percent * 1.05);
        Assert.InRange(100 * PlainTwins.Deviation(red) / red.Average(), percent * 0.95, percent * 1.05);
        Assert.InRange(PlainTwins.Correlation(red, infrared), -0.05, 0.05); // 10 000 samples: ± 5 standard errors
        Assert.InRange(PlainTwins.Correlation(infrared[1..], infrared[..^1]), -0.05, 0.05);
    }

    [Fact]
    public void Drift_is_slow_and_nearly_the_same_in_both_lamps()
    {
        var light = (PlainTwins.NoPulse with { Seconds = 7200 }).Light(PlainTwins.Ideal with { DriftPercent = 0.05, SamplesPerSecond = 20 }, 31);
        var (red, infrared) = (light.Red(), light.Infrared());
        Assert.InRange(100 * PlainTwins.Deviation(infrared) / infrared.Average(), 0.03, 0.07); // 120 times its own memory
        Assert.True(PlainTwins.Correlation(red, infrared) > 0.9);
        double greatestStep = infrared.Zip(infrared.Skip(1), (a, b) => Math.Abs(a - b)).Max() / infrared.Average();
        Assert.True(greatestStep < 0.00005);
    }

    [Fact]
    public void The_recording_holds_red_and_infrared_light_as_counts_on_one_even_axis()
    {
        var light = new SensorTrial { Seconds = 100, Sensor = default }.Light(OpticalSensorSettings.Default with { SamplesPerSecond = 100 }, 31);
        var red = light.Recording.Find(ChannelKind.RedLight)!;
        var infrared = light.Recording.Find(ChannelKind.InfraredLight)!;
        Assert.Same(red.Times, infrared.Times);
        Assert.Equal((10_000, 10L), (red.Times.Count, red.Times.Rate!.Value.Milliseconds));
        Assert.Equal(Calibration.Counts, red.Counts!.Calibration);
        Assert.Equal(10_000, light.SaturationPercent.Count);
        Assert.Equal(10_000, light.Disturbances.Count);
        Assert.All(light.BeatSeconds, b => Assert.InRange(b, 0, 99.99));
    }

    private static double MeanPulse(RehearsedLight light, double[] counts)
    {
        double beatSeconds = light.BeatSeconds[1] - light.BeatSeconds[0];
        var sums = new double[40];
        var times = new int[40];
        for (int i = 0; i < counts.Length; i++)
        {
            double place = (i / light.Rate.Hertz - light.BeatSeconds[0]) / beatSeconds;
            int bin = (int)Math.Floor((place - Math.Floor(place)) * 40);
            sums[bin] += counts[i];
            times[bin]++;
        }

        double[] mean = [.. sums.Zip(times, (s, t) => s / t)];
        return (mean.Max() - mean.Min()) / mean.Average();
    }
}
