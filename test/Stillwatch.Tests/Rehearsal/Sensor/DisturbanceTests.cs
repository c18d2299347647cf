using Stillwatch.Rehearsal.Sensor;
using Stillwatch.Signals;

namespace Stillwatch.Tests.Rehearsal.Sensor;

/// <summary>What happens to the sensor must do to the light what its name says, and as much.</summary>
public sealed class DisturbanceTests
{
    private const double ArterialRatio = 0.3395; // at 97 %, Gratzer and Kollias, 660/940 (see RatioAndPerfusionTests)
    private const double VenousRatio = 0.9654; // at 75 %, the same formula and table: (0.75·319.6 + 0.25·3226.56) / (0.75·1214 + 0.25·693.44)

    [Theory]
    [InlineData(0.5, 0)]
    [InlineData(3, 0)]
    [InlineData(0.5, 2)]
    [InlineData(3, 2)]
    public void Movement_is_as_strong_as_asked_for(double motion, double hertz)
    {
        var light = (PlainTwins.NoPulse with { Seconds = 900, Sensor = new() { Motion = motion, MotionHz = hertz } }).Light(PlainTwins.Ideal, 41);
        double[] logs = PlainTwins.Logs(light.Infrared());
        Assert.InRange(PlainTwins.Deviation(logs), 0.01 * motion * 0.85, 0.01 * motion * 1.15); // the usual pulse at a perfusion of 1 % is 0.01
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1.5)]
    public void Movement_has_a_ratio_between_that_of_venous_blood_and_one(double hertz)
    {
        var light = (PlainTwins.NoPulse with { Seconds = 300, Sensor = new() { Motion = 2, MotionHz = hertz } }).Light(PlainTwins.Ideal, 41);
        double ratio = PlainTwins.Slope(PlainTwins.Logs(light.Infrared()), PlainTwins.Logs(light.Red()));
        Assert.InRange(ratio, 0.99 * VenousRatio, 1.01);
        Assert.InRange(PlainTwins.Correlation(PlainTwins.Logs(light.Infrared()), PlainTwins.Logs(light.Red())), 0.98, 0.9999);
    }

    [Fact]
    public void All_venous_movement_has_the_venous_ratio_and_movement_of_the_path_has_one()
    {
        var trial = PlainTwins.NoPulse with { Seconds = 60, Sensor = new() { Motion = 2 } };
        foreach (var (share, expected) in new[] { (1.0, VenousRatio), (0.0, 1.0) })
        {
            var light = trial.Light(PlainTwins.Ideal with { MotionVenousShare = share, MotionUnlike = 0 }, 41);
            Assert.Equal(expected, PlainTwins.Slope(PlainTwins.Logs(light.Infrared()), PlainTwins.Logs(light.Red())), 0.0005);
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2.5)]
    public void Rhythmic_movement_has_the_frequency_asked_for(double hertz)
    {
        double[] infrared = PlainTwins.Logs((PlainTwins.NoPulse with { Seconds = 120, Sensor = new() { Motion = 2, MotionHz = hertz } }).Light(PlainTwins.Ideal, 41).Infrared());
        // Its frequency wanders: gathered over bands of a fifth around it, at half and at one and a half.
        Assert.True(Band(hertz) > 2.5 * Band(hertz * 0.5) && Band(hertz) > 2.5 * Band(hertz * 1.5));

        double Band(double middle) => Math.Sqrt(Enumerable.Range(-24, 49).Sum(i => Math.Pow(PlainTwins.AmplitudeAt(middle * (1 + i / 120.0), infrared, 125), 2)));
    }

    [Fact]
    public void When_movement_stops_the_light_is_what_it_would_have_been()
    {
        var trial = new SensorTrial { Seconds = 30 };
        var quiet = trial.Light(OpticalSensorSettings.Default, 42);
        var moved = trial.Light(OpticalSensorSettings.Default, 42, s => s is >= 5 and < 15 ? new SensorMoment { Motion = 5 } : default);
        Assert.Equal(quiet.Infrared()[..(5 * 125)], moved.Infrared()[..(5 * 125)]);
        Assert.NotEqual(quiet.Infrared()[700], moved.Infrared()[700]);
        Assert.Equal(quiet.Infrared()[(18 * 125)..], moved.Infrared()[(18 * 125)..]);
        Assert.Equal(quiet.Red()[(18 * 125)..], moved.Red()[(18 * 125)..]);
        for (int i = 0; i < moved.Disturbances.Count; i++) Assert.Equal(i / 125 is >= 5 and < 15, moved.Disturbances[i].HasFlag(Disturbances.Motion));
    }

    [Fact]
    public void A_movement_dies_away_without_a_jump()
    {
        for (ulong seed = 1; seed <= 10; seed++)
        {
            var light = (PlainTwins.NoPulse with { Seconds = 12 }).Light(PlainTwins.Ideal, seed, s => s is >= 2 and < 10 ? new SensorMoment { Motion = 5, MotionHz = 2 } : default);
            double[] logs = PlainTwins.Logs(light.Infrared());
            double[] steps = [.. logs.Zip(logs.Skip(1), (a, b) => Math.Abs(b - a))];
            Assert.True(steps[1245..1260].Max() <= steps[250..1245].Max());
        }
    }

    [Fact]
    public void A_lamps_flicker_is_the_same_amount_of_light_in_both_channels()
    {
        var light = (PlainTwins.NoPulse with { Seconds = 20, Sensor = new() { Flicker = 0.01, FlickerHz = 5 } }).Light(PlainTwins.Ideal, 43);
        var (red, infrared) = (light.Red(), light.Infrared());
        double found = PlainTwins.AmplitudeAt(5, infrared, 125);
        Assert.Equal(0.01, found / infrared.Average(), 0.0001);
        Assert.Equal(found, PlainTwins.AmplitudeAt(5, red, 125), 1.0);
        Assert.True(PlainTwins.AmplitudeAt(4, infrared, 125) < 1e-3 * found);
        Assert.All(light.Disturbances, d => Assert.Equal(Disturbances.Flicker, d));
    }

    [Fact]
    public void Steady_light_from_elsewhere_is_nearly_but_not_wholly_taken_off()
    {
        double dark = PlainTwins.NoPulse.Light(PlainTwins.Ideal, 43).Infrared()[0];
        double lit = (PlainTwins.NoPulse with { Sensor = new() { Ambient = 1 } }).Light(PlainTwins.Ideal, 43).Infrared()[0];
        Assert.Equal(1 + PlainTwins.Ideal.AmbientLeft, lit / dark, 1e-4);
    }

    [Fact]
    public void More_light_from_elsewhere_than_the_amplifier_bears_floods_the_sensor()
    {
        var light = new SensorTrial { Seconds = 5, Sensor = new() { Ambient = 6 } }.Light(PlainTwins.Ideal, 43);
        Assert.All(light.Infrared().Concat(light.Red()), c => Assert.Equal(Math.Pow(2, 24) - 1, c));
        Assert.All(light.Disturbances, d => Assert.Equal(Disturbances.Ambient | Disturbances.Clipped, d));
    }

    // (R + k·h/(1−h)·b) / (1 + k·h/(1−h)·b) with h the share beside the tissue and k how deep the edge is moved; b = 1, the level of the light through the tissue.
    [Theory]
    [InlineData(0)]
    [InlineData(0.25)]
    [InlineData(0.5)]
    [InlineData(1)]
    public void A_slipped_sensor_sees_more_light_and_a_ratio_nearer_to_one(double slip)
    {
        var light = new SensorTrial { Seconds = 20, SaturationPercent = 97, PerfusionPercent = 1, Sensor = new() { Slip = slip } }.Light(PlainTwins.Ideal, 44);
        double beside = slip / 2 / (1 - slip / 2), edge = PlainTwins.Ideal.EdgePulse * beside;
        Assert.Equal((ArterialRatio + edge) / (1 + edge), PlainTwins.Mean(PlainTwins.Ratios(light, 3)), 0.01);
        double placed = new SensorTrial { Seconds = 20, PerfusionPercent = 1 }.Light(PlainTwins.Ideal, 44).Infrared()[500..].Average();
        Assert.Equal(1 + beside, light.Infrared()[500..].Average() / placed, 0.01);
    }

    [Fact]
    public void Off_the_finger_and_in_the_dark_there_is_little_light_and_no_pulse()
    {
        var light = new SensorTrial { Seconds = 20, Sensor = new() { Off = true } }.Light(OpticalSensorSettings.Default, 45);
        double[] infrared = light.Infrared();
        double usual = OpticalSensorSettings.Default.InfraredLevel * Math.Pow(2, 18);
        Assert.True(infrared.Max() < 0.01 * usual);
        Assert.InRange(PlainTwins.Deviation(infrared), 0.00008 * usual, 0.00012 * usual); // noise alone
        Assert.NotEmpty(light.BeatSeconds); // the heart goes on
    }

    [Fact]
    public void Off_the_finger_and_in_a_bright_room_the_sensor_is_flooded()
    {
        var light = new SensorTrial { Seconds = 5, Sensor = new() { Off = true, Ambient = 0.5 } }.Light(OpticalSensorSettings.Default, 45);
        Assert.All(light.Infrared().Concat(light.Red()), c => Assert.Equal(Math.Pow(2, 18) - 1, c));
    }

    [Fact]
    public void A_lost_feed_has_no_counts_while_the_truth_goes_on()
    {
        var trial = new SensorTrial { Seconds = 20, SaturationPercent = 95, LastSaturationPercent = 85 };
        var whole = trial.Light(OpticalSensorSettings.Default, 46);
        var lost = trial.Light(OpticalSensorSettings.Default, 46, s => s is >= 8 and < 12 ? new SensorMoment { FeedLost = true } : default);
        var counts = lost.Recording.Find(ChannelKind.RedLight)!.Counts!;
        for (int i = 0; i < counts.Count; i++)
        {
            bool gone = i / 125 is >= 8 and < 12;
            Assert.Equal(gone, counts[i] == CountColumn.Missing);
            Assert.Equal(gone, lost.Disturbances[i].HasFlag(Disturbances.FeedLost));
        }

        Assert.Equal(whole.SaturationPercent, lost.SaturationPercent);
        Assert.Equal(whole.BeatSeconds, lost.BeatSeconds);
        Assert.Equal(whole.Infrared()[(12 * 125)..], lost.Infrared()[(12 * 125)..]);
        Assert.All(lost.Infrared()[(8 * 125)..(12 * 125)], v => Assert.True(double.IsNaN(v)));
    }
}
