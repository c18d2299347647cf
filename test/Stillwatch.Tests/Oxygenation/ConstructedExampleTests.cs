using Stillwatch.Conditioning;
using Stillwatch.Oxygenation;
using Stillwatch.Quantities;
using Stillwatch.Time;
using Xunit;

namespace Stillwatch.Tests.Oxygenation;

/// <summary>Constructed examples whose figures follow by arithmetic from the series itself, at one row a second.</summary>
public sealed class ConstructedExampleTests
{
    // 96 -> 86 -> 96 %, 30 s each way, in a recording of one hour.
    private const string Triangle = "96*1800 96>86*30 86>96*30 96*1740";

    private static RecordingReview Review(string series, ConditioningSettings conditioning)
    {
        var source = SeriesText.Source(series);
        return RecordingReviewer.Review(SeriesText.Recording(source), source, conditioning, ReviewOptions.Default);
    }

    [Fact]
    public void A_triangle_of_10_points_and_60_s_comes_out_exactly_without_rounding()
    {
        var review = Review(Triangle, DesaturationEventTests.Unrounded);
        var found = Assert.Single(review.Events!);
        Assert.True(found.IsFallOf4);
        Assert.Equal(SampleTime.FromSeconds(1800), found.Start);
        Assert.Equal(SampleTime.FromSeconds(1860), found.End);
        Assert.Equal(Duration.FromSeconds(60), found.Length);
        Assert.Equal(Percent.Of(86), found.Nadir);
        Assert.Equal(SampleTime.FromSeconds(1830), found.NadirTime);
        Assert.Equal(Percent.Of(96), found.Baseline);
        Assert.Equal(Percent.Of(10), found.Depth);
        Assert.Equal(300m, found.Area.Value); // 5 %·min
        Assert.Equal(Duration.FromSeconds(30), found.Recovery);
        Assert.Equal(1, review.Exposure.Odi3);
        Assert.Equal(1, review.Exposure.Odi4);
    }

    [Fact]
    public void The_triangle_has_23_samples_strictly_below_90()
    {
        var below = Review(Triangle, DesaturationEventTests.Unrounded).Exposure.Below[0];
        Assert.Equal(Percent.Of(90), below.Level);
        Assert.Equal(Duration.FromSeconds(23), below.Time);
        Assert.Equal(100.0 * 23 / 3600, below.PercentOfValid, 12);
    }

    [Fact]
    public void As_displayed_the_triangle_is_two_seconds_shorter_with_the_same_area()
    {
        // 95.67 shows as 96: the shown value leaves 96 at 1802 s and is back at 1859 s.
        // Below 90 means 89 and less: from 89.33 at 1820 s to 89.33 at 1840 s, 21 samples.
        var review = Review(Triangle, ConditioningSettings.Default);
        var found = Assert.Single(review.Events!);
        Assert.Equal(SampleTime.FromSeconds(1801), found.Start);
        Assert.Equal(SampleTime.FromSeconds(1859), found.End);
        Assert.Equal(Percent.Of(86), found.Nadir);
        Assert.Equal(300m, found.Area.Value); // the thirds round up as often as down
        Assert.Equal(Duration.FromSeconds(21), review.Exposure.Below[0].Time);
    }

    [Theory]
    [InlineData(0, 80)]
    [InlineData(3, 80)]
    [InlineData(8, 80)]
    [InlineData(16, 87)]
    public void Averaging_hides_the_nadir_of_a_square_dip_of_9_s(int averagingSeconds, double nadir)
    {
        var conditioning = ConditioningSettings.Default with { Validity = ValidityRule.None, Averaging = Duration.FromSeconds(averagingSeconds) };
        Assert.Equal(nadir, Review("96*300 80*9 96*300", conditioning).Exposure.Minimum);
    }

    [Fact]
    public void The_delta_index_of_12_s_means_96_95_96_92_94_is_2() =>
        Assert.Equal(2.0, Review("96*12 95*12 96*12 92*12 94*12", ConditioningSettings.Default).Exposure.DeltaIndex!.Value, 12);

    [Fact]
    public void The_delta_index_leaves_out_windows_less_than_half_valid_and_the_rest_at_the_end()
    {
        // The third window holds for 6 s of hold only from its start; the fourth has nothing; the last is cut short.
        var review = Review("96*12 95*12 .*24 92*12 90*12 50*5", ConditioningSettings.Default with { Validity = ValidityRule.None });
        // 96 to 95: 1. 95 to the held 95 of the third window (5 s of 12: too little). 92 to 90: 2.
        Assert.Equal(1.5, review.Exposure.DeltaIndex!.Value, 12);
    }
}
