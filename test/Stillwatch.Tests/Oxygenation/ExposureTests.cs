using CsCheck;
using Stillwatch.Conditioning;
using Stillwatch.Oxygenation;
using Stillwatch.Quantities;
using Stillwatch.Time;
using Xunit;

namespace Stillwatch.Tests.Oxygenation;

public sealed class ExposureTests
{
    private static Exposure Of(string series, ReviewOptions? options = null, ConditioningSettings? conditioning = null, decimal periodSeconds = 1)
    {
        var source = SeriesText.Source(series, periodSeconds);
        return RecordingReviewer.Review(SeriesText.Recording(source), source, conditioning ?? ConditioningSettings.Default, options ?? ReviewOptions.Default).Exposure;
    }

    [Fact]
    public void A_value_equal_to_a_level_is_not_below_it()
    {
        var below = Of("90*60 88*30 85*20 80*10").Below;
        Assert.Equal([60.0, 30, 10, 0], below.Select(b => b.Time.Seconds));
    }

    [Fact]
    public void Percent_and_minutes_per_hour_are_of_valid_time()
    {
        // 60 s and 30 s at a value, 5 s of hold, 895 s lost: 30 of 95 valid seconds below 90.
        var below = Of("95*60 89*30 .*900").Below[0];
        Assert.Equal(35, below.Time.Seconds);
        Assert.Equal(100.0 * 35 / 95, below.PercentOfValid, 12);
        Assert.Equal(60.0 * 35 / 95, below.MinutesPerHour, 12);
    }

    [Fact]
    public void Percentiles_are_values_that_occurred_with_that_share_of_time_at_or_below()
    {
        var exposure = Of("80 85*4 90*45 95*50");
        Assert.Equal(80, exposure.Percentile1);
        Assert.Equal(85, exposure.Percentile5);
        Assert.Equal(90, exposure.Median);
        Assert.Equal(80, exposure.Minimum);
        Assert.Equal((80 + 4 * 85 + 45 * 90 + 50 * 95) / 100.0, exposure.Mean!.Value, 12);
    }

    [Fact]
    public void Time_weighs_not_rows()
    {
        // One row of 90, then two missing: held for 3 s against 1 s at 96.
        Assert.Equal((3 * 90 + 96) / 4.0, Of("90 .*2 96").Mean!.Value, 12);
    }

    [Fact]
    public void The_area_below_90_is_depth_times_time_per_valid_hour() =>
        Assert.Equal(5 * 30 + 10 * 20, Of("95*3550 85*30 80*20").AreaBelow90PerHour, 9);

    [Fact]
    public void The_target_includes_both_its_ends()
    {
        var target = Of("87*10 88*20 90*30 92*40 93*50", new ReviewOptions(new TargetRange(Percent.Of(88), Percent.Of(92)))).Target!;
        Assert.Equal([10.0, 90, 50], new[] { target.Below.Seconds, target.Within.Seconds, target.Above.Seconds });
    }

    [Fact]
    public void Extra_levels_come_after_the_usual_ones_each_once()
    {
        var levels = Of("90*60", new ReviewOptions(ExtraLevels: [Percent.Of(92), Percent.Of(88)])).Below.Select(b => b.Level.Value);
        Assert.Equal([90m, 88, 85, 80, 92], levels);
    }

    [Fact]
    public void The_histogram_rounds_half_away_from_zero()
    {
        var histogram = Of("88.5*7 89.4*5", conditioning: DesaturationEventTests.Unrounded).Histogram;
        Assert.Equal(101, histogram.Count);
        Assert.Equal(12, histogram[89].Seconds);
        Assert.Equal(12, histogram.Sum(h => h.Seconds));
    }

    [Fact]
    public void Values_outside_0_to_100_are_in_no_bar_and_said_so()
    {
        var source = SeriesText.Source("95*50 127*20 -5*10");
        var review = RecordingReviewer.Review(SeriesText.Recording(source), source, ConditioningSettings.Default with { Validity = ValidityRule.None }, ReviewOptions.Default);
        Assert.Equal(50, review.Exposure.Histogram.Sum(h => h.Seconds));
        Assert.Contains(review.NotApplicable, n => n.StartsWith("30 s at values outside 0–100 %", StringComparison.Ordinal));
    }

    [Fact]
    public void Without_a_valid_value_nothing_is_claimed()
    {
        var source = SeriesText.Source("0*60 .*60");
        var review = RecordingReviewer.Review(SeriesText.Recording(source), source, ConditioningSettings.Default, ReviewOptions.Default);
        Assert.Equal(Duration.Zero, review.Valid);
        Assert.Equal(0, review.Coverage);
        Assert.Null(review.Exposure.Mean);
        Assert.Null(review.Exposure.Median);
        Assert.Null(review.Exposure.Minimum);
        Assert.Null(review.Exposure.Odi3);
        Assert.Equal("No valid value in this hour.", Assert.Single(review.Hours).Words);
        Assert.Contains(review.NotApplicable, n => n.Contains("no valid value", StringComparison.Ordinal));
    }

    [Fact]
    public void An_upside_down_target_is_refused() =>
        Assert.Throws<ArgumentException>(() => new TargetRange(Percent.Of(95), Percent.Of(90)));

    /// <summary>The slow twin: one entry for every second with a value, sorted.</summary>
    [Fact]
    public void Exposure_equals_counting_seconds() => Gen.Select(Gen.Int[70, 100], Gen.Int[1, 40], Gen.Bool).Array[1, 40].Sample(stretches =>
    {
        var rows = stretches.SelectMany(s => Enumerable.Repeat<decimal?>(s.Item3 || s.Item2 > 20 ? s.Item1 : null, s.Item2)).ToArray();
        var source = ConditionedSource.Even(rows, Duration.FromSeconds(1));
        var conditioning = ConditioningSettings.Default with { Validity = ValidityRule.None };
        var exposure = RecordingReviewer.Review(SeriesText.Recording(source), source, conditioning, ReviewOptions.Default).Exposure;
        var seconds = new List<decimal>();
        for (int i = 0; i < rows.Length; i++)
        {
            // R5: a value holds for its own second and five more.
            decimal? held = rows.Skip(Math.Max(0, i - 5)).Take(Math.Min(i, 5) + 1).LastOrDefault(v => v is not null);
            if (held is { } value) seconds.Add(value);
        }

        seconds.Sort();
        if (seconds.Count == 0) return exposure.Mean is null;
        return seconds.Count(v => v < 90) == exposure.Below[0].Time.Seconds
            && seconds.Count(v => v < 80) == exposure.Below[3].Time.Seconds
            && Math.Abs((double)seconds.Average() - exposure.Mean!.Value) < 1e-9
            && (double)seconds[(seconds.Count + 1) / 2 - 1] == exposure.Median
            && (double)seconds[(seconds.Count + 19) / 20 - 1] == exposure.Percentile5
            && (double)seconds[(seconds.Count + 99) / 100 - 1] == exposure.Percentile1
            && Math.Abs((double)seconds.Sum(v => Math.Max(0, 90 - v)) * 3600 / seconds.Count - exposure.AreaBelow90PerHour) < 1e-6;
    }, iter: 2000);
}
