using Stillwatch.Oximetry;

namespace Stillwatch.Tests.Oximetry.Breathing;

/// <summary>Respiratory rate of invented patients whose breaths are known. Windows of 32 s.</summary>
/// <remarks>
/// To reach on one intensive-care record: mean absolute error at most 1.5 /min with at least 80 % of windows kept. Published on other recordings: root mean square error
/// 3.0 /min (Karlen et al., IEEE TBME 2013;60:1946); median absolute error 1.5 and 4.0 /min with more than 90 % kept (Pimentel et al., IEEE TBME 2017;64:1914).
/// Bounds below are what this one measured, rounded up: they hold it where it is.
/// </remarks>
public sealed class BreathingAccuracyTests(ITestOutputHelper output)
{
    [Fact]
    public void A_mixed_ward_is_read_within_one_breath_a_minute_in_four_of_five_windows()
    {
        var (error, kept, far) = Measure(Enumerable.Range(0, 150).Select(i => (InventedBreathing.Mixed((ulong)i), (ulong)i)));
        Assert.True(error <= 1.0, $"mean absolute error {error:0.00} /min");
        Assert.True(kept >= 0.8, $"kept {kept:P0}");
        Assert.True(far <= 0.04, $"more than 3 /min off in {far:P1}");
    }

    [Theory]
    [InlineData(6, 60, 1.0, 0.6)]
    [InlineData(8, 60, 1.0, 0.6)]
    [InlineData(12, 70, 0.5, 0.9)]
    [InlineData(20, 90, 0.5, 0.9)]
    [InlineData(30, 100, 0.5, 0.9)]
    [InlineData(45, 140, 0.6, 0.9)]
    [InlineData(60, 150, 0.7, 0.7)]
    [InlineData(68, 160, 0.7, 0.6)]
    public void From_slow_to_fast_breathing(double breaths, double pulse, double mostError, double leastKept)
    {
        var patient = new InventedBreathing { BreathsPerMinute = breaths, PulsePerMinute = pulse };
        var (error, kept, _) = Measure(Enumerable.Range(0, 12).Select(i => (patient, (ulong)(100 + i))));
        Assert.True(error <= mostError, $"mean absolute error {error:0.00} /min");
        Assert.True(kept >= leastKept, $"kept {kept:P0}");
    }

    [Theory]
    [InlineData(0.5, 0, 0)]
    [InlineData(0, 0.06, 0)]
    [InlineData(0, 0, 0.05)]
    public void One_variation_alone_is_enough(double intensity, double amplitude, double frequency)
    {
        var patient = new InventedBreathing { Intensity = intensity, Amplitude = amplitude, Frequency = frequency, SlowWaves = 0.3, Noise = 0.5 };
        var (error, kept, _) = Measure(Enumerable.Range(0, 12).Select(i => (patient, (ulong)(200 + i))));
        Assert.True(error <= 1.0, $"mean absolute error {error:0.00} /min");
        Assert.True(kept >= 0.6, $"kept {kept:P0}");
    }

    [Fact]
    public void Early_and_missed_beats_do_not_breathe()
    {
        var patient = new InventedBreathing { EarlyBeats = 0.08, MissedBeats = 0.05 };
        var (error, kept, _) = Measure(Enumerable.Range(0, 20).Select(i => (patient, (ulong)(300 + i))));
        Assert.True(error <= 1.0, $"mean absolute error {error:0.00} /min");
        Assert.True(kept >= 0.8, $"kept {kept:P0}");
    }

    [Fact]
    public void Beats_in_which_nothing_breathes_are_mostly_refused()
    {
        var patient = new InventedBreathing { Intensity = 0, Amplitude = 0, Frequency = 0, SlowWaves = 0 };
        var (_, kept, _) = Measure(Enumerable.Range(0, 40).Select(i => (patient, (ulong)(400 + i))));
        Assert.True(kept <= 0.1, $"kept {kept:P0}");
    }

    [Fact]
    public void Fused_is_better_than_each_of_the_three_alone()
    {
        var windows = Enumerable.Range(0, 100).SelectMany(i => Windows(InventedBreathing.Mixed((ulong)i), (ulong)i)).Where(w => !double.IsNaN(w.Reading.RatePerMinute)).ToList();
        double fused = windows.Average(w => Math.Abs(w.Reading.RatePerMinute - w.Truth));
        foreach (var alone in (Func<BreathingReading, double>[])[r => r.FromIntensity, r => r.FromAmplitude, r => r.FromFrequency])
        {
            double single = windows.Where(w => !double.IsNaN(alone(w.Reading))).Average(w => Math.Abs(alone(w.Reading) - w.Truth));
            Assert.True(fused < 0.6 * single, $"fused {fused:0.00}, alone {single:0.00} /min");
        }
    }

    private (double Error, double Kept, double Far) Measure(IEnumerable<(InventedBreathing Patient, ulong Seed)> patients)
    {
        var windows = patients.SelectMany(p => Windows(p.Patient, p.Seed)).ToList();
        var errors = windows.Where(w => !double.IsNaN(w.Reading.RatePerMinute)).Select(w => Math.Abs(w.Reading.RatePerMinute - w.Truth)).ToList();
        var result = (errors.DefaultIfEmpty(0).Average(), errors.Count / (double)windows.Count, errors.Count(e => e > 3) / (double)Math.Max(1, errors.Count));
        output.WriteLine($"{windows.Count} windows: mean absolute error {result.Item1:0.00} /min, kept {result.Item2:P1}, more than 3 /min off {result.Item3:P1}");
        return result;
    }

    private static IEnumerable<(BreathingReading Reading, double Truth)> Windows(InventedBreathing patient, ulong seed)
    {
        var (beats, breaths) = patient.Make(seed);
        return BreathingReadings.Of(beats, patient.LengthSeconds)
            .Select(r => (r, InventedBreathing.RateOf(breaths, r.StartSeconds, r.StartSeconds + r.LengthSeconds)));
    }
}
