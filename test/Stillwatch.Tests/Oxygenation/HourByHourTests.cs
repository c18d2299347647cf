using Stillwatch.Conditioning;
using Stillwatch.Oxygenation;
using Stillwatch.Signals;
using Stillwatch.Time;
using Xunit;

namespace Stillwatch.Tests.Oxygenation;

public sealed class HourByHourTests
{
    private const string QuietStart = "96*7200 ";

    private static RecordingReview Review(string series, decimal periodSeconds = 1)
    {
        var source = SeriesText.Source(series, periodSeconds);
        return RecordingReviewer.Review(SeriesText.Recording(source), source, ConditioningSettings.Default, ReviewOptions.Default);
    }

    [Theory]
    [InlineData("95*3600", "Mostly 95 %, never below 90.")]
    [InlineData("94*1200 95*1200 96*1200", "Mostly 94–96 %, never below 90.")]
    [InlineData("96*1800 86*60 96*1740", "Mostly 96 %, 1 min below 90 (lowest 86), one dip.")]
    [InlineData("96*1800 86*40 96*1760", "Mostly 96 %, 40 s below 90 (lowest 86), one dip.")]
    [InlineData("96*1800 92*40 96*1760", "Mostly 96 %, never below 90, one dip.")]
    [InlineData("96*600 (86*40 96*50)*3 96*600 86*40 96*2090", "Mostly 96 %, 3 min below 90 (lowest 86), one cluster of dips and one single dip.")]
    [InlineData("96*300 (86*40 96*50)*4 96*600 (86*40 96*50)*4 96*600 78*30 96*1350", "Mostly 96 %, 6 min below 90 (lowest 78, 30 s below 80), two clusters of dips and one single dip.")]
    [InlineData("88*3600", "Mostly 88 %, all the time below 90 (lowest 88), one fall of more than 10 min; 8 points below the patient's own start.")]
    [InlineData("93*3600", "Mostly 93 %, never below 90, one fall of more than 10 min; 3 points below the patient's own start.")]
    [InlineData("98*3600", "Mostly 98 %, never below 90; 2 points above the patient's own start.")]
    [InlineData("96*1494 .*2106", "Mostly 96 %, never below 90; values for only 25 min of its 60 min.")]
    [InlineData(".*3600", "No valid value in this hour.")]
    [InlineData("96*25 .*3575", "Mostly 96 %, never below 90; values for only 30 s of its 60 min.")]
    public void The_third_hour_in_words(string hour, string words)
    {
        // A last row that the hold of the second hour does not reach into.
        var third = Review(QuietStart[..^1].Replace("7200", "7190") + " .*10 " + hour).Hours[2];
        Assert.Equal(words, third.Words);
    }

    [Fact]
    public void A_cluster_counts_in_the_hour_in_which_it_starts_and_its_later_dips_are_named_as_such()
    {
        var review = Review("96*3400 (86*40 96*50)*4 96*3440");
        Assert.Equal([1, 0], review.Hours.Select(h => h.Clusters!.Value));
        Assert.Equal([3, 1], review.Hours.Select(h => h.Events!.Value));
        Assert.Equal("Mostly 96 %, 1 min below 90 (lowest 86), dips of a cluster that began earlier.", review.Hours[1].Words);
    }

    [Fact]
    public void Hours_are_counted_from_the_first_row_and_the_last_may_be_short()
    {
        var hours = Review("96*3600 95*1800").Hours;
        Assert.Equal([1, 2], hours.Select(h => h.Number));
        Assert.Equal(new TimeSlice(SampleTime.FromSeconds(3600), SampleTime.FromSeconds(5400)), hours[1].Span);
        Assert.Equal(Duration.FromSeconds(1800), hours[1].Valid);
    }

    [Fact]
    public void The_hours_add_up_to_the_whole()
    {
        var review = Review("96*3000 88*1200 .*900 84*3000 95*200");
        Assert.Equal(review.Valid.Seconds, review.Hours.Sum(h => h.Valid.Seconds));
        for (int level = 0; level < 4; level++)
            Assert.Equal(review.Exposure.Below[level].Time.Seconds, review.Hours.Sum(h => h.Below[level].Time.Seconds));
    }

    [Fact]
    public void The_own_start_is_the_median_of_the_first_two_hours_with_30_minutes_of_values()
    {
        // Hour 1 holds 20 minutes at 99 and nothing else: left out.
        var review = Review("99*1200 .*2400 96*3600 94*3600 91*3600");
        Assert.Equal([2, 3], review.OwnBaseline!.HourNumbers);
        Assert.Equal(94, review.OwnBaseline.Median); // half of the time at or below
        Assert.Equal([5.0, 2, 0, -3], review.Hours.Select(h => h.ChangeFromBaseline!.Value));
    }

    [Fact]
    public void A_recording_of_one_hour_has_a_start_but_no_change_from_it()
    {
        var review = Review("96*3600");
        Assert.Equal(96, review.OwnBaseline!.Median);
        Assert.Null(review.Hours[0].ChangeFromBaseline);
    }

    [Fact]
    public void A_recording_shorter_than_30_minutes_has_no_start_and_says_so()
    {
        var review = Review("96*1500");
        Assert.Null(review.OwnBaseline);
        Assert.Null(review.Hours[0].ChangeFromBaseline);
        Assert.Contains(review.NotApplicable, n => n.Contains("patient's own start", StringComparison.Ordinal));
    }

    [Fact]
    public void Two_rows_a_century_apart_do_not_make_a_million_hours()
    {
        var times = new TimeAxis.Builder();
        times.Add(0);
        times.Add(100L * 366 * 24 * 3_600_000);
        var source = new ConditionedSource(new Channel("SpO2", ChannelKind.SpO2, "%", times.Build(Duration.FromSeconds(1)), ValueColumn.Of([96m, 95m])), ConditionedQuantity.SpO2);
        var review = RecordingReviewer.Review(SeriesText.Recording(source), source, ConditioningSettings.Default, ReviewOptions.Default);
        Assert.Equal([1, 878401], review.Hours.Select(h => h.Number));
        Assert.Contains(review.NotApplicable, n => n.Contains("hours without a value are not listed", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("96*300 (88*20 96*60)*3 96*60", "299-480:3")]
    [InlineData("96*300 (88*20 96*60)*2 96*60", "")]
    [InlineData("96*300 (88*20 96*100)*3", "299-560:3")]
    [InlineData("96*300 (88*20 96*101)*3", "")]
    public void Three_events_that_start_at_most_120_s_apart_are_a_cluster(string series, string expected)
    {
        var clusters = Review(series).Clusters!;
        Assert.Equal(expected, string.Join(" ", clusters.Select(c => $"{c.Span.Start.Seconds}-{c.Span.End.Seconds}:{c.Events}")));
    }
}
