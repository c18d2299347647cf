using Stillwatch.Oximetry;
using Stillwatch.Rehearsal.Sensor;

namespace Stillwatch.Tests.Oximetry.Breathing;

/// <summary>Respiratory rate from the rehearsal's light: through the whole chain, against the breaths that its patient took.</summary>
public sealed class RehearsedLightBreathingTests(ITestOutputHelper output)
{
    [Theory]
    [InlineData(8, 60, 2.0)]
    [InlineData(12, 70, 2.0)]
    [InlineData(16, 72, 2.0)]
    [InlineData(16, 72, 0.5)]
    [InlineData(24, 100, 1.0)]
    [InlineData(32, 110, 2.0)]
    [InlineData(50, 150, 2.0)]
    public void Breathing_of_a_quiet_finger_is_read_within_one_a_minute(double breaths, double pulse, double perfusion)
    {
        var trial = new SensorTrial { Seconds = 325, RespiratoryRatePerMinute = breaths, PulseRatePerMinute = pulse, PerfusionPercent = perfusion };
        var light = trial.Light(OpticalSensorSettings.Default, seed: (ulong)(breaths * 1000 + pulse));
        var readings = Derivation.Of(light.Recording, new OximetrySettings()).Breathing;
        double[] truth = [.. light.BreathSeconds];
        var errors = readings.Where(r => !double.IsNaN(r.RatePerMinute))
            .Select(r => Math.Abs(r.RatePerMinute - InventedBreathing.RateOf(truth, r.StartSeconds, r.StartSeconds + r.LengthSeconds))).ToList();
        foreach (var r in readings)
        {
            output.WriteLine($"{InventedBreathing.RateOf(truth, r.StartSeconds, r.StartSeconds + 32):0.0}: {r.RatePerMinute:0.0} ({r.FromIntensity:0.0} {r.FromAmplitude:0.0} {r.FromFrequency:0.0})");
        }

        double error = errors.DefaultIfEmpty(99).Average();
        output.WriteLine($"{readings.Count} windows: mean absolute error {error:0.00} /min, kept {errors.Count}");
        Assert.Equal(10, readings.Count);
        Assert.True(error <= 1, $"mean absolute error {error:0.00} /min");
        Assert.True(errors.Count >= 8, $"kept {errors.Count} of 10");
    }
}
