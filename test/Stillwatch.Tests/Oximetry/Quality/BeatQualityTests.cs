using CsCheck;
using Stillwatch.Oximetry.Quality;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Oximetry.Quality;

/// <summary>Features of a beat as one number.</summary>
public sealed class BeatQualityTests
{
    private static readonly BeatFeatures Good = new(0.99, 0.5, 0.1, 1, 1, 0.8, 0);

    private static readonly Gen<BeatFeatures> Any = Gen.Select(
        Gen.Double[-1, 1], Gen.Double[-2, 2], Gen.Double[-6, 6], Gen.Double[0.1, 8], Gen.Double[0.2, 5], Gen.Double[0.2, 3], Gen.Double[0, 0.3],
        (correlation, skewness, baseline, amplitude, interval, seconds, clipped) => new BeatFeatures(correlation, skewness, baseline, amplitude, interval, seconds, clipped));

    [Fact]
    public void A_good_beat_has_full_quality_and_what_is_not_known_is_no_reproach()
    {
        Assert.Equal(1, BeatQuality.Of(Good));
        Assert.Equal(1, BeatQuality.Of(Good with { AmplitudeChange = double.NaN, IntervalChange = double.NaN }));
    }

    // what is wrong | the feature | its value | quality at most
    private const string Faults = """
        unlike the mean shape          | Correlation    | 0.70 | 0
        just at the published 0.86     | Correlation    | 0.86 | 0.75
        runs the other way             | Skewness       | -1.5 | 0.5
        the level runs away            | BaselineChange | 4    | 0
        and back                       | BaselineChange | -4   | 0
        three times as large           | AmplitudeChange| 3    | 0
        a third as large               | AmplitudeChange| 0.33 | 0
        more than twice as long        | IntervalChange | 2.3  | 0.5
        24 a minute                    | IntervalSeconds| 2.5  | 0
        251 a minute                   | IntervalSeconds| 0.239| 0
        a tenth of it at the end       | ClippedShare   | 0.1  | 0
        """;

    [Fact]
    public void Each_fault_alone_costs_quality()
    {
        foreach (string row in Faults.Split('\n'))
        {
            string[] cells = row.Split('|', StringSplitOptions.TrimEntries);
            Assert.True(BeatQuality.Of(With(Good, cells[1], double.Parse(cells[2]))) <= double.Parse(cells[3]) + 1e-9, cells[0]);
        }
    }

    [Fact]
    public void Worse_in_any_feature_is_never_better_in_the_whole() =>
        Gen.Select(Any, Gen.Double[0, 1]).Sample((beat, worse) =>
        {
            double quality = BeatQuality.Of(beat);
            Assert.InRange(quality, 0, 1);
            Assert.True(BeatQuality.Of(beat with { Correlation = beat.Correlation - worse }) <= quality);
            Assert.True(BeatQuality.Of(beat with { Skewness = beat.Skewness - worse }) <= quality);
            Assert.True(BeatQuality.Of(beat with { BaselineChange = beat.BaselineChange * (1 + worse) }) <= quality);
            Assert.True(BeatQuality.Of(beat with { AmplitudeChange = Math.Pow(beat.AmplitudeChange, 1 + worse) }) <= quality);
            Assert.True(BeatQuality.Of(beat with { IntervalChange = Math.Pow(beat.IntervalChange, 1 + worse) }) <= quality);
            Assert.True(BeatQuality.Of(beat with { ClippedShare = beat.ClippedShare + worse }) <= quality);
        }, iter: Sampling.Cases(1000));

    [Fact]
    public void Twice_as_large_is_as_bad_as_half_as_large() =>
        Gen.Double[0.1, 10].Sample(change =>
        {
            Assert.Equal(BeatQuality.Of(Good with { AmplitudeChange = change }), BeatQuality.Of(Good with { AmplitudeChange = 1 / change }), 1e-9);
            Assert.Equal(BeatQuality.Of(Good with { IntervalChange = change }), BeatQuality.Of(Good with { IntervalChange = 1 / change }), 1e-9);
        }, iter: Sampling.Cases(200));

    // value | bad end | good end | share
    [Theory]
    [InlineData(0.5, 0, 1, 0.5)]
    [InlineData(-1, 0, 1, 0)]
    [InlineData(2, 0, 1, 1)]
    [InlineData(3, 4, 2, 0.5)]
    [InlineData(5, 4, 2, 0)]
    [InlineData(double.NaN, 4, 2, 1)]
    public void A_ramp_is_straight_between_its_ends(double value, double bad, double good, double share) => Assert.Equal(share, new Ramp(bad, good).Of(value), 1e-12);

    private static BeatFeatures With(BeatFeatures beat, string feature, double value) => feature switch
    {
        "Correlation" => beat with { Correlation = value },
        "Skewness" => beat with { Skewness = value },
        "BaselineChange" => beat with { BaselineChange = value },
        "AmplitudeChange" => beat with { AmplitudeChange = value },
        "IntervalChange" => beat with { IntervalChange = value },
        "IntervalSeconds" => beat with { IntervalSeconds = value },
        "ClippedShare" => beat with { ClippedShare = value },
        _ => throw new ArgumentException(feature),
    };
}
