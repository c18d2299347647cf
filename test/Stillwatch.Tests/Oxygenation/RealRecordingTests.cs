using Stillwatch.Conditioning;
using Stillwatch.Oxygenation;
using Xunit;

namespace Stillwatch.Tests.Oxygenation;

/// <summary>Open recordings of others, read in place.</summary>
public sealed class RealRecordingTests
{
    private static RecordingReview Review(ConditionedSource source, ConditioningSettings? conditioning = null) =>
        RecordingReviewer.Review(SeriesText.Recording(source), source, conditioning ?? ConditioningSettings.Default, ReviewOptions.Default);

    // Four healthy adults breathing less and less oxygen (Hoffman et al., npj Digit Med 2022;5:146). The figures are the output of
    //   python3 test/Stillwatch.Tests/Oxygenation/independent_exposure.py ../shared/data/controlled-desaturation/numerics
    // file | column | connected s | valid s | s below 90, 88, 85, 80 | mean | p1 | p5 | median | minimum | area below 90 in %·s
    [Theory]
    [InlineData("100001 | SpO2 1 | 1090 | 1090 | 524 | 470 | 401 | 289 | 86.795413 | 65 | 67 | 90 | 65 | 6522")]
    [InlineData("100001 | SpO2 4 | 1090 | 1090 | 514 | 463 | 389 | 281 | 87.136697 | 65 | 67 | 91 | 65 | 6485")]
    [InlineData("100002 | SpO2 1 | 1122 | 1122 | 566 | 442 | 348 | 216 | 88.041889 | 71 | 73 | 89 | 70 | 4902")]
    [InlineData("100002 | SpO2 4 | 1122 | 1122 | 564 | 436 | 338 | 178 | 88.666667 | 73 | 75 | 89 | 73 | 4376")]
    [InlineData("100003 | SpO2 1 | 1066 | 1066 | 494 | 378 | 317 | 269 | 87.724203 | 68 | 71 | 91 | 67 | 5184")]
    [InlineData("100003 | SpO2 4 | 1066 | 1066 | 528 | 462 | 352 | 296 | 86.711069 | 66 | 70 | 90 | 66 | 5860")]
    [InlineData("100004 | SpO2 1 | 1015 | 1015 | 449 | 328 | 205 | 74 | 90.323153 | 77 | 79 | 90 | 77 | 2517")]
    [InlineData("100004 | SpO2 4 | 1015 | 1015 | 492 | 338 | 208 | 32 | 90.294581 | 78 | 80 | 90 | 78 | 2439")]
    public void Exposure_of_the_controlled_desaturations_equals_an_independent_computation(string row)
    {
        string[] cells = row.Split('|', StringSplitOptions.TrimEntries);
        var review = Review(OpenColumns.Column($"controlled-desaturation/numerics/{cells[0]}.csv", cells[1]));
        var exposure = review.Exposure;
        Assert.Equal(double.Parse(cells[2]), review.Monitored.Seconds);
        Assert.Equal(double.Parse(cells[3]), review.Valid.Seconds);
        Assert.Equal([double.Parse(cells[4]), double.Parse(cells[5]), double.Parse(cells[6]), double.Parse(cells[7])], exposure.Below.Select(b => b.Time.Seconds));
        Assert.Equal(double.Parse(cells[8]), exposure.Mean!.Value, 6);
        Assert.Equal(
            [double.Parse(cells[9]), double.Parse(cells[10]), double.Parse(cells[11]), double.Parse(cells[12])],
            [exposure.Percentile1!.Value, exposure.Percentile5!.Value, exposure.Median!.Value, exposure.Minimum!.Value]);
        Assert.Equal(double.Parse(cells[13]) * 3600 / double.Parse(cells[3]), exposure.AreaBelow90PerHour, 6);
    }

    [Theory]
    [InlineData("100001")]
    [InlineData("100002")]
    [InlineData("100003")]
    [InlineData("100004")]
    public void A_controlled_desaturation_is_one_to_a_few_long_deep_events(string file)
    {
        // One long staircase down to 61–80 % and back for each person (data set's description); plateaux may split it.
        var events = Review(OpenColumns.Column($"controlled-desaturation/numerics/{file}.csv", "SpO2 4")).Events!;
        Assert.InRange(events.Count, 1, 5);
        Assert.InRange((double)events.Min(e => e.Nadir.Value), 61, 80);
        Assert.True(events.Sum(e => e.Length.Seconds) > 600);
    }

    [Fact]
    public void Quiet_recordings_of_healthy_adults_have_few_events()
    {
        // Ten healthy adults, rest, treadmill, mental stress: few real falls (PhysioNet noneeg 1.0.0; Birjandtalab et al., SiPS 2016).
        // Plausibility: 11 events in 6.3 h when this was written, the deepest to 89 %; a definition gone wrong gives dozens.
        double hours = 0, events = 0;
        for (int subject = 1; subject <= 10; subject++)
        {
            // Row 2287 of subject 2 and later are not to be used.
            var review = Review(OpenColumns.Column($"rest-and-stress/s{subject:00}.csv", "spo2_pct", rowLimit: subject == 2 ? 2287 : int.MaxValue));
            hours += review.Valid.Hours;
            events += review.Events!.Count;
        }

        Assert.InRange(hours, 6, 6.5);
        Assert.InRange(events / hours, 0, 3);
    }

    [Fact]
    public void A_night_of_severe_sleep_apnoea_has_about_thirty_events_an_hour_in_long_trains()
    {
        // Santa Fe time series contest, data set B (PhysioNet santa-fe 1.0.0), on an ASSUMED percent scale, so plausibility only:
        // about 32 falls of at least 4 nominal % an hour, from peak to nadir. Measured from the mean of 120 s, which sinks in
        // a train, fewer count: 26 of them were found when this was written, and 30 falls of 3 nominal %.
        var review = Review(OpenColumns.Column("sleep-apnoea-nominal/night.csv", "spo2_nominal_pct_ASSUMED_SCALE"));
        Assert.InRange(review.Exposure.Odi4!.Value, 20, 40);
        Assert.InRange(review.Exposure.Odi3!.Value, review.Exposure.Odi4!.Value, 45);
        Assert.True(review.Clusters!.Sum(c => c.Events) > review.Events!.Count / 2, "most dips come in trains");
        Assert.InRange(review.Coverage, 0.9, 0.99); // three sections with the sensor off
    }
}
