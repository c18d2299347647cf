using Stillwatch.Conditioning;
using Stillwatch.Oxygenation;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;
using Xunit;

namespace Stillwatch.Tests.Oxygenation;

/// <summary>What a review says of itself: definitions, what does not apply, pulse rate.</summary>
public sealed class RecordingReviewTests
{
    private static RecordingReview Review(ConditionedSource source, ConditioningSettings? conditioning = null, ReviewOptions? options = null, params Channel[] more) =>
        RecordingReviewer.Review(SeriesText.Recording(source, more), source, conditioning ?? ConditioningSettings.Default, options ?? ReviewOptions.Default);

    [Fact]
    public void A_row_a_minute_has_exposure_but_no_events_and_says_why()
    {
        var review = Review(SeriesText.Source("96*30 85*5 96*30", periodSeconds: 60));
        Assert.Null(review.Events);
        Assert.Null(review.Clusters);
        Assert.Null(review.Exposure.Odi3);
        Assert.Null(review.Exposure.Odi4);
        Assert.Null(review.Exposure.DeltaIndex);
        Assert.All(review.Hours, h => Assert.True(h.Events is null && h.Clusters is null));
        Assert.Equal(5, review.Exposure.Below[0].Time.Minutes);
        Assert.Contains(review.NotApplicable, n => n.StartsWith("One sample every 60 s: desaturation events", StringComparison.Ordinal));
        Assert.DoesNotContain("ODI", review.Definition, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(5, true)]
    [InlineData(5.001, false)]
    public void One_sample_in_5_s_is_the_sparsest_for_events(double periodSeconds, bool applicable) =>
        Assert.Equal(applicable, Review(SeriesText.Source("96*60 88*10 96*60", (decimal)periodSeconds)).Events is not null);

    [Fact]
    public void The_definition_names_everything_that_moves_a_number()
    {
        string definition = Review(SeriesText.Source("96*3600"), ConditioningSettings.Default with { Averaging = Duration.FromSeconds(8) }, new ReviewOptions(new TargetRange(Percent.Of(91), Percent.Of(95)))).Definition;
        foreach (string part in new[]
        {
            "one sample every 1 s", "Averaging: ours 8 s, on top of the source's own, which is not known", "Validity: standard", "gap tolerance 5 s",
            "Rounding: as displayed", "valid time", "strictly below", "percentile", "Target 91–95 %", "120 s before the fall", "at least 10 s",
            "no accepted standard for ODI", "Cluster of dips", "Δ index", "own start: median of hour 1", "local policy",
        })
            Assert.Contains(part, definition, StringComparison.Ordinal);
    }

    [Fact]
    public void Averaging_up_to_one_period_and_no_rules_are_named_as_such()
    {
        string definition = Review(SeriesText.Source("96*60"), new ConditioningSettings(ValidityRule.None, Duration.FromSeconds(1), Duration.Zero, Rounding.None)).Definition;
        Assert.Contains("Averaging: ours none", definition, StringComparison.Ordinal);
        Assert.Contains("Validity: none", definition, StringComparison.Ordinal);
        Assert.Contains("Rounding: none", definition, StringComparison.Ordinal);
    }

    [Fact]
    public void The_pulse_rate_change_is_the_highest_until_30_s_after_minus_the_mean_of_120_s_before()
    {
        // The event runs from 299 to 320 s. 100 comes 29 s after its end and counts, 130 comes 31 s after and does not.
        var pulse = SeriesText.Source("60*179 70*120 80*50 100 70*1 130 70*100").Channel;
        var source = SeriesText.Source("96*300 88*20 96*132");
        Assert.Equal(30, Rise(source, pulse)!.Value, 9);
    }

    [Fact]
    public void Without_a_pulse_rate_its_change_is_unknown_and_that_is_said()
    {
        var source = SeriesText.Source("96*300 88*20 96*132");
        Assert.Null(Rise(source, null));
        Assert.Contains(Review(source).NotApplicable, n => n.StartsWith("No pulse rate", StringComparison.Ordinal));
    }

    [Fact]
    public void With_less_than_60_s_of_pulse_rate_before_its_change_is_unknown() =>
        Assert.Null(Rise(SeriesText.Source("96*300 88*20 96*132"), SeriesText.Source(".*250 70*202").Channel));

    [Fact]
    public void Another_quantity_than_SpO2_is_refused()
    {
        var pulse = ConditionedSource.Even([70m, 71m], Duration.FromSeconds(1), ConditionedQuantity.PulseRate);
        var error = Assert.Throws<ArgumentException>(() => Review(pulse));
        Assert.Contains("expected SpO2", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_empty_channel_is_reviewed_without_a_claim()
    {
        var review = Review(SeriesText.Source(""));
        Assert.Empty(review.Hours);
        Assert.Empty(review.Events!);
        Assert.Equal(0, review.Coverage);
    }

    private static double? Rise(ConditionedSource spo2, Channel? pulse)
    {
        Channel[] channels = pulse is null ? [] : [new Channel("pulse", ChannelKind.PulseRate, "/min", pulse.Times, pulse.Values)];
        return Assert.Single(Review(spo2, null, null, channels).Events!).PulseRateRise;
    }
}
