using Stillwatch.Oximetry;
using Stillwatch.Time;

namespace Stillwatch.Tests.Oximetry.Stream;

/// <summary>Light whose every number is known because it was written down.</summary>
public class PlainLightTests
{
    [Theory]
    [InlineData(25, 30, 2.0, 0.4)]
    [InlineData(125, 72, 1.0, 0.6)]
    [InlineData(125, 240, 1.0, 1.0)]
    [InlineData(500, 120, 0.5, 1.5)]
    public void The_numbers_that_were_put_in_come_out(int rateHz, double perMinute, double perfusionPercent, double ratio)
    {
        var (infrared, red) = PlainLight.Light(rateHz, 60, perMinute, perfusionPercent, ratio);
        var derived = Derivation.Of(PlainLight.RecordingOf(SampleRate.Of(rateHz, 1000), infrared, red), new OximetrySettings());
        Assert.Equal(60, derived.Seconds.Count);
        var middle = derived.Seconds[30];
        Assert.Equal(perMinute, middle.PulseRatePerMinute, 0.5);
        Assert.Equal(ratio, middle.RatioOfRatios, 0.02);
        Assert.Equal(110 - 25 * ratio, middle.SpO2Percent, 0.5);
        Assert.InRange(derived.Beats.Count, perMinute - 2, perMinute + 1);
    }
}
