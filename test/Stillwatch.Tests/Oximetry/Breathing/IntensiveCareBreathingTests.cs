using System.Globalization;
using Stillwatch.Oximetry;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tests.Oximetry.Breathing;

/// <summary>
/// One intensive-care record of 8 min, breaths marked by two annotators: BIDMC PPG and Respiration data set, record 01 (PhysioNet, doi
/// 10.13026/C2208R; Pimentel et al., IEEE TBME 2017;64:1914). One record is a check, not evidence.
/// </summary>
public sealed class IntensiveCareBreathingTests(ITestOutputHelper output)
{
    private const double RateHz = 125;

    [Fact]
    public void Its_breathing_is_read_within_one_and_a_half_a_minute_in_four_of_five_windows()
    {
        var pleth = ValueColumn.Of(Column("icu-plethysmogram/bidmc_01_Signals.csv", 2).Select(v => (decimal?)v));
        var channel = new Channel("PLETH", ChannelKind.Pleth, "", TimeAxis.Even(default, SampleRate.Of(125, 1000), pleth.Count), pleth);
        var derived = Derivation.Of(new Recording("icu", new RecordingStart.Unknown(), [channel], SourceAveraging.Unknown, []), new OximetrySettings());
        double[] first = Breaths(0), second = Breaths(1);
        var errors = new List<double>();
        var apart = new List<double>();
        foreach (var reading in derived.Breathing)
        {
            double one = InventedBreathing.RateOf(first, reading.StartSeconds, reading.StartSeconds + reading.LengthSeconds);
            double other = InventedBreathing.RateOf(second, reading.StartSeconds, reading.StartSeconds + reading.LengthSeconds);
            double truth = (one + other) / 2;
            apart.Add(Math.Abs(one - other));
            if (!double.IsNaN(reading.RatePerMinute)) errors.Add(Math.Abs(reading.RatePerMinute - truth));
            output.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{reading.StartSeconds,4} s: annotators {one:0.0} {other:0.0}; read {reading.RatePerMinute:0.0} (intensity {reading.FromIntensity:0.0}, amplitude {reading.FromAmplitude:0.0}, frequency {reading.FromFrequency:0.0})"));
        }

        double error = errors.DefaultIfEmpty(99).Average(), kept = errors.Count / (double)derived.Breathing.Count;
        output.WriteLine($"{derived.Beats.Count} beats, {derived.Breathing.Count} windows: mean absolute error {error:0.00} /min, kept {kept:P0}; the annotators differ by {apart.Average():0.00} /min");
        Assert.True(error <= 1.5, $"mean absolute error {error:0.00} /min");
        Assert.True(kept >= 0.8, $"kept {kept:P0}");
    }

    private static double[] Breaths(int column) => [.. Column("icu-plethysmogram/bidmc_01_Breaths.csv", column).Select(s => (double)s / RateHz)];

    private static IEnumerable<decimal> Column(string file, int column) =>
        File.ReadLines(OpenRecordings.Path(file)).Skip(1).Select(line => line.Split(',')[column].Trim()).Where(cell => cell.Length > 0)
            .Select(cell => decimal.Parse(cell, NumberStyles.Float, CultureInfo.InvariantCulture));
}
