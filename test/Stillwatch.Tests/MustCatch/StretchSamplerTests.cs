using CsCheck;
using Stillwatch.Conditioning;
using Stillwatch.Tests.Oxygenation;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Xunit;

namespace Stillwatch.Tests.MustCatch;

/// <summary>Rule R14.10: a random sample of stretches that did not signal, and the share that nobody reviewed.</summary>
public sealed class StretchSamplerTests
{
    private static readonly Duration Minute = Duration.FromSeconds(60);

    private static ConditionedSeries Series(string text) => ConditionedSeries.Of(SeriesText.Source(text), ConditioningSettings.Default);

    [Fact]
    public void Stretches_tile_the_time_without_a_signal()
    {
        var sample = StretchSampler.Draw(Series("96*300"), [MustCatchTables.Slice("100-130"), MustCatchTables.Slice("120-150")], Minute, 99, seed: 1);
        Assert.Equal(["0-60", "60-100", "150-210", "210-270", "270-300"], sample.Stretches.Select(s => $"{s.Start.Seconds}-{s.End.Seconds}"));
        Assert.Equal(Duration.FromSeconds(250), sample.Quiet);
        Assert.Equal(0, sample.ShareNotDrawn);
    }

    [Fact]
    public void Stretches_begin_with_a_value_and_lost_time_is_not_quiet_time()
    {
        // Valid 0-60 and a hold of 5 s, then from 600 s on.
        var sample = StretchSampler.Draw(Series("96*60 .*540 96*60"), [], Minute, 99, seed: 1);
        Assert.Equal(["0-60", "60-120", "600-660"], sample.Stretches.Select(s => $"{s.Start.Seconds}-{s.End.Seconds}"));
        Assert.Equal(Duration.FromSeconds(125), sample.Quiet);
    }

    [Fact]
    public void The_same_seed_draws_the_same_and_another_seed_another()
    {
        var series = Series("96*36000");
        var first = StretchSampler.Draw(series, [], Minute, 10, seed: 7).Stretches;
        Assert.Equal(first, StretchSampler.Draw(series, [], Minute, 10, seed: 7).Stretches);
        Assert.NotEqual(first, StretchSampler.Draw(series, [], Minute, 10, seed: 8).Stretches);
    }

    [Fact]
    public void Every_stretch_has_the_same_chance()
    {
        // 10 stretches, 3 drawn, 5000 seeds: each is expected 1500 times with a standard deviation of 32.
        var series = Series("96*600");
        var times = new Dictionary<SampleTime, int>();
        for (int seed = 0; seed < 5000; seed++)
            foreach (var stretch in StretchSampler.Draw(series, [], Minute, 3, seed).Stretches)
                times[stretch.Start] = times.GetValueOrDefault(stretch.Start) + 1;
        Assert.Equal(10, times.Count);
        Assert.All(times.Values, n => Assert.InRange(n, 1500 - 5 * 32, 1500 + 5 * 32));
    }

    [Fact]
    public void The_share_not_reviewed_is_of_valid_time_without_a_signal()
    {
        // 600 s, of which 100 s signal; reviewed: 50 s of signal, 125 s of quiet (one stretch twice).
        double? share = StretchSampler.ShareNotReviewed(
            Series("96*600"),
            [MustCatchTables.Slice("100-200")],
            [MustCatchTables.Slice("150-300"), MustCatchTables.Slice("275-325")]);
        Assert.Equal(1 - 125 / 500.0, share!.Value, 12);
    }

    [Fact]
    public void Without_quiet_time_there_is_no_share()
    {
        Assert.Null(StretchSampler.ShareNotReviewed(Series("96*60"), [MustCatchTables.Slice("0-60")], []));
        Assert.Null(StretchSampler.Draw(Series(".*60"), [], Minute, 5, seed: 1).ShareNotDrawn);
    }

    [Fact]
    public void Drawn_stretches_never_touch_a_signal_and_never_overlap() =>
        Gen.Select(Gen.Select(Gen.Int[0, 1900], Gen.Int[1, 200]).Array[0, 12], Gen.Int[1, 300], Gen.Int[0, 30], Gen.Int).Sample((spans, length, count, seed) =>
        {
            var series = Series("96*700 .*300 96*1000");
            var signals = Array.ConvertAll(spans, s => new TimeSlice(SampleTime.FromSeconds(s.Item1), SampleTime.FromSeconds(s.Item1 + s.Item2)));
            var sample = StretchSampler.Draw(series, signals, Duration.FromSeconds(length), count, seed);
            Assert.True(sample.Stretches.Count <= count && sample.Drawn <= sample.Quiet);
            for (int i = 0; i < sample.Stretches.Count; i++)
            {
                Assert.DoesNotContain(signals, s => s.Overlaps(sample.Stretches[i]));
                Assert.True(i == 0 || sample.Stretches[i - 1].End <= sample.Stretches[i].Start);
            }

            // What was drawn is what is no longer unreviewed once it has been reviewed.
            if (sample.ShareNotDrawn is { } share)
                Assert.Equal(share, StretchSampler.ShareNotReviewed(series, signals, sample.Stretches)!.Value, 9);
        }, iter: 1000);
}
