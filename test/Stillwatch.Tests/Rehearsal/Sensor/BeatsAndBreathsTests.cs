using Stillwatch.Rehearsal.Sensor;

namespace Stillwatch.Tests.Rehearsal.Sensor;

/// <summary>The true times that come with the light: beats where they are said to be, and as many as the rate says.</summary>
public sealed class BeatsAndBreathsTests
{
    [Theory]
    [InlineData(30)]
    [InlineData(72)]
    [InlineData(150)]
    [InlineData(240)]
    public void Beats_counted_over_ten_minutes_are_the_pulse_rate(double rate)
    {
        var light = new SensorTrial { Seconds = 600, PulseRatePerMinute = rate }.Light(OpticalSensorSettings.Default, 21);
        Assert.InRange(light.BeatSeconds.Count / 10.0, rate * 0.99, rate * 1.01);
    }

    [Fact]
    public void A_rising_rate_is_followed_beat_by_beat()
    {
        var light = new SensorTrial { Seconds = 120, PulseRatePerMinute = 60, LastPulseRatePerMinute = 120 }.Light(PlainTwins.Ideal, 21);
        for (int i = 1; i < light.BeatSeconds.Count; i++)
        {
            double expected = 60 + 60 * light.BeatSeconds[i - 1] / 119;
            Assert.InRange(60 / (light.BeatSeconds[i] - light.BeatSeconds[i - 1]), expected - 1.5, expected + 1.5); // a beat keeps the rate it began with
        }
    }

    [Theory]
    [InlineData(40)]
    [InlineData(75)]
    [InlineData(200)]
    public void A_beat_is_where_blood_volume_rises_fastest(double rate)
    {
        foreach (var settings in new[] { PlainTwins.Ideal, PlainTwins.Ideal with { Shape = PulseShape.Old }, PlainTwins.Ideal with { Shape = PulseShape.Newborn } })
        {
            // A thousand samples a second; differences over 4 ms, for those over 1 ms feel the converter's steps.
            var light = new SensorTrial { Seconds = 15, PulseRatePerMinute = rate, PerfusionPercent = 10 }.Light(settings with { SamplesPerSecond = 1000 }, 21);
            double[] found = PlainTwins.SteepestRises(light, Smoothed(light.Infrared()));
            Assert.True(found.Length > 5);
            for (int i = 0; i < found.Length; i++) Assert.Equal(light.BeatSeconds[i + 1], found[i], 0.004);
        }
    }

    [Fact]
    public void Movement_noise_and_the_lamp_do_not_move_the_true_beats()
    {
        var trial = new SensorTrial { Seconds = 60 };
        var quiet = trial.Light(OpticalSensorSettings.Default, 8);
        var moved = (trial with { Sensor = new() { Motion = 3, Slip = 0.5, Flicker = 0.1, FlickerHz = 4 } }).Light(OpticalSensorSettings.Default with { NoisePercent = 1, Bits = 14 }, 8);
        Assert.Equal(quiet.BeatSeconds, moved.BeatSeconds);
        Assert.Equal(quiet.BreathSeconds, moved.BreathSeconds);
    }

    [Fact]
    public void A_heart_that_stands_still_gives_no_beats_and_goes_on_afterwards()
    {
        var moments = new SensorTrial { Seconds = 60 }.Moments();
        for (int i = 20; i < 40; i++) moments[i] = moments[i] with { PulseRatePerMinute = 0 };
        var light = RehearsalLight.Record(moments, new SensorMoment[60], PlainTwins.Ideal, 4);
        Assert.DoesNotContain(light.BeatSeconds, b => b is > 20.3 and < 39);
        Assert.Contains(light.BeatSeconds, b => b < 20);
        Assert.Contains(light.BeatSeconds, b => b > 45);
        Assert.True(PlainTwins.Deviation(light.Infrared()[(22 * 125)..(38 * 125)]) < 1);
    }

    [Theory]
    [InlineData(8)]
    [InlineData(15)]
    [InlineData(50)]
    public void Breaths_counted_over_ten_minutes_are_the_respiratory_rate(double rate)
    {
        var light = new SensorTrial { Seconds = 600, RespiratoryRatePerMinute = rate }.Light(OpticalSensorSettings.Default, 22);
        Assert.InRange(light.BreathSeconds.Count / 10.0, rate * 0.97, rate * 1.03);
    }

    [Fact]
    public void A_breath_without_effort_is_none_and_one_without_air_is_one()
    {
        var light = new SensorTrial { Seconds = 60, BreathEffort = 0 }.Light(OpticalSensorSettings.Default, 22);
        Assert.Empty(light.BreathSeconds);
        var obstructed = new SensorTrial { Seconds = 60 }.Moments();
        for (int i = 0; i < obstructed.Length; i++) obstructed[i] = obstructed[i] with { BreathDepth = 0, BreathEffort = 1.5 };
        Assert.InRange(RehearsalLight.Record(obstructed, new SensorMoment[60], OpticalSensorSettings.Default, 22).BreathSeconds.Count, 13, 17);
    }

    [Fact]
    public void Breathing_shows_in_the_level_in_the_height_and_in_the_time_of_beats()
    {
        var usual = OpticalSensorSettings.Default;
        var trial = new SensorTrial { Seconds = 120, RespiratoryRatePerMinute = 12 };

        double level = PlainTwins.AmplitudeAt(0.2, PlainTwins.Logs(trial.Light(PlainTwins.Ideal with { BreathBaselinePercent = usual.BreathBaselinePercent }, 9).Infrared()), 125);
        Assert.InRange(200 * level, usual.BreathBaselinePercent * 1.25, usual.BreathBaselinePercent * 1.5); // trough to peak, times the root of perfusion 2 (the wave is not quite a sine)

        double[] heights = PlainTwins.Perfusion(trial.Light(PlainTwins.Ideal with { BreathAmplitude = usual.BreathAmplitude }, 9));
        Assert.InRange((heights.Max() - heights.Min()) / 2 / heights.Average(), usual.BreathAmplitude * 0.8, usual.BreathAmplitude * 1.1);

        double[] times = Intervals(trial.Light(PlainTwins.Ideal with { SinusVariation = usual.SinusVariation }, 9));
        Assert.InRange((times.Max() - times.Min()) / 2 / times.Average(), usual.SinusVariation * 0.8, usual.SinusVariation * 1.2);

        double[] alike = Intervals(trial.Light(PlainTwins.Ideal, 9));
        Assert.True(alike.Max() - alike.Min() < 1e-9);
    }

    [Fact]
    public void Effort_that_moves_no_air_moves_the_level_but_not_the_heart()
    {
        var moments = new SensorTrial { Seconds = 120, RespiratoryRatePerMinute = 12 }.Moments();
        for (int i = 0; i < moments.Length; i++) moments[i] = moments[i] with { BreathDepth = 0, BreathEffort = 2 };
        var usual = OpticalSensorSettings.Default;
        var light = RehearsalLight.Record(moments, new SensorMoment[120], PlainTwins.Ideal with { SinusVariation = usual.SinusVariation, BreathBaselinePercent = usual.BreathBaselinePercent }, 9);
        double[] times = Intervals(light);
        Assert.True(times.Max() - times.Min() < 1e-9);
        Assert.True(200 * PlainTwins.AmplitudeAt(0.2, PlainTwins.Logs(light.Infrared()), 125) > 2 * 1.25 * usual.BreathBaselinePercent);
    }

    [Fact]
    public void Beats_vary_slowly_and_breaths_each_by_itself_as_much_as_asked_for()
    {
        var light = new SensorTrial { Seconds = 7200, RespiratoryRatePerMinute = 20, PulseRatePerMinute = 75 }.Light(PlainTwins.Ideal with { SlowVariation = 0.02, BreathVariation = 0.05, SamplesPerSecond = 20 }, 23);
        double[] beats = Intervals(light);
        Assert.InRange(PlainTwins.Deviation(beats) / beats.Average(), 0.017, 0.023);
        Assert.InRange(PlainTwins.Correlation(beats[1..], beats[..^1]), 0.85, 0.95); // e^(−0.8 s / 8 s) = 0.905
        double[] breaths = [.. light.BreathSeconds.Zip(light.BreathSeconds.Skip(1), (a, b) => b - a)];
        Assert.InRange(PlainTwins.Deviation(breaths) / breaths.Average(), 0.045, 0.057);
        Assert.InRange(PlainTwins.Correlation(breaths[1..], breaths[..^1]), -0.1, 0.1);
    }

    [Fact]
    public void A_slower_heart_takes_longer_to_the_crest_but_not_as_much_longer_as_its_beat()
    {
        // Beats of 2 s and of 0.5 s: by the root of four, roughly; a shape drawn out with the beat would give four.
        Assert.InRange(CrestSeconds(30) / CrestSeconds(120), 1.8, 2.5);

        static double CrestSeconds(double rate)
        {
            var light = new SensorTrial { Seconds = 10, PulseRatePerMinute = rate }.Light(PlainTwins.Ideal with { SamplesPerSecond = 500 }, 24);
            double[] infrared = light.Infrared();
            int upstroke = (int)(light.BeatSeconds[1] * 500), half = (int)(15_000 / rate);
            int trough = Enumerable.Range(upstroke - half, half).MaxBy(i => infrared[i]), crest = Enumerable.Range(upstroke, half).MinBy(i => infrared[i]);
            return (crest - trough) / 500.0;
        }
    }

    [Fact]
    public void Air_goes_in_for_two_fifths_of_a_breath()
    {
        // Without a beating heart breathing is all that moves the light, and less venous blood lets more through.
        double[] infrared = new SensorTrial { Seconds = 40, PulseRatePerMinute = 0, RespiratoryRatePerMinute = 15 }.Light(PlainTwins.Ideal with { BreathBaselinePercent = 1 }, 24).Infrared();
        double brightening = infrared.Zip(infrared.Skip(1)).Count(p => p.Second > p.First) / (double)(infrared.Length - 1);
        Assert.Equal(0.4, brightening, 0.01);
    }

    [Fact]
    public void A_recording_begins_anywhere_in_a_beat()
    {
        double[] first = [.. Enumerable.Range(1, 40).Select(seed => new SensorTrial { Seconds = 3, PulseRatePerMinute = 60 }.Light(PlainTwins.Ideal, (ulong)seed).BeatSeconds[0])];
        Assert.All(first, b => Assert.InRange(b, 0, 1));
        Assert.True(first.Min() < 0.15 && first.Max() > 0.85);
    }

    private static double[] Intervals(RehearsedLight light) => [.. light.BeatSeconds.Zip(light.BeatSeconds.Skip(1), (a, b) => b - a)];

    private static double[] Smoothed(double[] values) =>
        [.. values.Select((_, i) => values[Math.Max(0, i - 2)..Math.Min(values.Length, i + 3)].Average())];
}
