using CsCheck;
using Stillwatch.Oximetry.Feed;
using Stillwatch.Rehearsal;
using Stillwatch.Signals;
using Stillwatch.Tests.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Tests.Oximetry.Feed;

/// <summary>From channels to samples on one even grid.</summary>
public sealed class LightFeedTests
{
    private static double Wave(double seconds) => 50 + 5 * Math.Sin(2 * Math.PI * 1.2 * seconds) + 2 * Math.Sin(2 * Math.PI * 2.4 * seconds);

    [Fact]
    public void Even_rows_are_given_as_they_are_chunk_by_chunk()
    {
        var times = TimeAxis.Even(new SampleTime(500), SampleRate.Of(125, 1000), 20_000);
        var channel = Lights.Channel(times, i => i % 97 == 3 ? double.NaN : i % 1000);
        var (frames, summary) = Run(channel);
        Assert.Equal(Enumerable.Range(0, 20_000).Select(i => i % 97 == 3 ? double.NaN : i % 1000), frames.Pulse);
        Assert.Equal(TimeAxis.ChunkLength, frames.LongestTake);
        Assert.False(frames.AnyRed);
        Assert.Equal(new FeedSummary(SampleRate.Of(125, 1000), new SampleTime(500), 20_000, 0, FeedGrid.Even, 0, 0, null), summary);
    }

    [Fact]
    public void Red_and_infrared_come_together_and_the_shorter_one_has_no_numbers_after_its_end()
    {
        var infrared = Lights.Channel(TimeAxis.Even(default, SampleRate.Of(100, 1000), 9000), i => i % 500);
        var red = Lights.Channel(TimeAxis.Even(default, SampleRate.Of(100, 1000), 100), i => 2 * i, "RED");
        var (frames, summary) = Run(infrared, red);
        Assert.Equal(9000, summary.Samples);
        Assert.Equal(198, frames.Red[99]);
        Assert.True(frames.Red.Skip(100).All(double.IsNaN));
        var (swapped, _) = Run(red, infrared);
        Assert.Equal(frames.Pulse, swapped.Red);
        Assert.Equal(frames.Red, swapped.Pulse);
    }

    // What the source is | its exact rate | rate found
    [Theory]
    [InlineData("30 a second in milliseconds: 33, 33, 34", 30, 30)]
    [InlineData("60 a second: 17, 16, 17", 60, 60)]
    [InlineData("128 a second", 128, 128)]
    [InlineData("62.5 a second is every 16 ms", 62.5, 62.5)]
    [InlineData("256 a second", 256, 256)]
    [InlineData("360 a second", 360, 360)]
    [InlineData("every 33 ms, which is no whole rate", 1000.0 / 33, 1000.0 / 33)]
    public void Times_rounded_to_milliseconds_are_jitter_and_not_unevenness(string source, double hertz, double found)
    {
        var channel = Lights.Channel(Lights.Written(hertz, 10_000, i => i is < 4000 or > 4009), i => i % 1000);
        var (frames, summary) = Run(channel);
        Assert.True(summary.Grid == FeedGrid.Snapped, source);
        Assert.Equal(found, summary.Rate.Hertz, 9);
        Assert.InRange(summary.GreatestJitterSeconds, 0, 0.00051);
        Assert.Equal(10_000, summary.Samples);
        Assert.Equal(10, summary.MissingSamples);
        Assert.Equal([(4000, 10L)], frames.Gaps);
        Assert.Equal(999, frames.Pulse[999]);
        Assert.Null(summary.Resampling);
    }

    [Fact]
    public void An_hour_without_rows_is_a_gap_of_its_samples_and_the_grid_holds_across_it()
    {
        var channel = Lights.Channel(Lights.Written(30, 130_000, i => i is < 5000 or >= 113_000), i => i < 5000 ? 1 : 2);
        var (frames, summary) = Run(channel);
        Assert.Equal(FeedGrid.Snapped, summary.Grid);
        Assert.Equal([(5000, 108_000L)], frames.Gaps);
        Assert.Equal(2, frames.Pulse[113_000]);
        Assert.Equal(108_000, summary.MissingSamples);
    }

    [Fact]
    public void Any_rows_left_out_of_an_even_source_are_gaps() =>
        Gen.Select(Gen.OneOf(Gen.Const(25.0), Gen.Const(30.0), Gen.Const(50.0), Gen.Const(125.0)), Gen.Int[0, 100_000], Gen.Double[0.02, 0.3]).Sample((hertz, seed, share) =>
        {
            var random = new SeededRandom((ulong)seed);
            bool gone = false;
            var there = Enumerable.Range(0, 2000).Select(i => i == 0 || !(gone = random.Unit() < (gone ? 0.9 : share / 10))).ToArray();
            var (frames, summary) = Run(Lights.Channel(Lights.Written(hertz, 2000, i => there[i]), _ => 7));
            if (there.All(t => t) && hertz != 30) return; // nothing was left out: even, not snapped
            Assert.Equal(FeedGrid.Snapped, summary.Grid);
            Assert.Equal(there.Count(t => t), frames.Pulse.Count(p => p == 7));
            for (int i = 0; i < frames.Pulse.Count; i++) Assert.Equal(there[i], frames.Pulse[i] == 7);
        }, iter: Sampling.Cases(100));

    [Fact]
    public void A_millisecond_of_jitter_snaps_and_five_do_not()
    {
        var random = new SeededRandom(3);
        Assert.Equal(FeedGrid.Snapped, Run(Lights.Channel(Lights.Uneven(Enumerable.Range(0, 3000).Select(i => 40L * i + random.Index(3))), i => i % 7)).Summary.Grid);
        Assert.Equal(FeedGrid.Resampled, Run(Lights.Channel(Lights.Uneven(Enumerable.Range(0, 3000).Select(i => 40L * i + random.Index(6))), i => i % 7)).Summary.Grid);
    }

    [Fact]
    public void Uneven_rows_are_resampled_and_the_error_stated_is_not_below_the_true_one()
    {
        var times = Wandering(seed: 5, count: 20_000, least: 26, most: 41);
        var (frames, summary) = Run(Lights.Channel(times, i => Wave(times.TimeAt(i).Seconds)));
        Assert.Equal(FeedGrid.Resampled, summary.Grid);
        Assert.Equal(30, summary.Rate.Hertz);
        var report = Assert.IsType<Stillwatch.Oximetry.ResamplingReport>(summary.Resampling);
        Assert.Equal(30, report.RateHz);
        Assert.Equal(0.041, report.GreatestStepSeconds, 6);
        var errors = frames.Pulse.Select((v, k) => v - Wave(k / 30.0)).ToList();
        double pulse = Math.Sqrt((25 + 4) / 2.0);
        double relative = Math.Sqrt(errors.Average(e => e * e)) / pulse;
        Assert.InRange(relative, 0.0001, 0.02);
        Assert.InRange(report.RelativeError, relative, 0.15);
    }

    [Fact]
    public void A_straight_line_is_resampled_without_error()
    {
        var times = Wandering(seed: 6, count: 9000, least: 20, most: 45);
        var (frames, summary) = Run(Lights.Channel(times, i => 3 + 0.5 * times.TimeAt(i).Seconds));
        for (int k = 0; k < frames.Pulse.Count; k++) Assert.Equal(3 + 0.5 * k / summary.Rate.Hertz, frames.Pulse[k], 2e-6); // held in millionths
        Assert.InRange(summary.Samples, 9000 * 0.0325 * summary.Rate.Hertz - 100, 9000 * 0.0325 * summary.Rate.Hertz + 100);
    }

    [Fact]
    public void A_step_of_more_than_four_medians_is_a_gap_and_each_channel_has_its_own()
    {
        var times = Lights.Uneven(Wander(8, 2000, 26, 41).Select((t, i) => i < 1000 ? t : t + 60_000));
        var infrared = Lights.Channel(times, i => Wave(times.TimeAt(i).Seconds));
        var red = Lights.Channel(times, i => i is >= 300 and < 400 ? double.NaN : 2 * Wave(times.TimeAt(i).Seconds), "RED");
        var (frames, summary) = Run(infrared, red);
        Assert.Single(frames.Gaps);
        Assert.InRange(frames.Gaps[0].Samples, 1795, 1805);
        Assert.Equal(frames.Gaps[0].Samples, summary.MissingSamples);
        Assert.Equal(summary.Samples, frames.Pulse.Count);
        int redMissing = Enumerable.Range(0, frames.Pulse.Count).Count(k => double.IsNaN(frames.Red[k]) && !double.IsNaN(frames.Pulse[k]));
        Assert.InRange(redMissing, 95, 105);
        for (int k = 3; k < frames.Pulse.Count - 3; k++)
        {
            if (!frames.Red[(k - 3)..(k + 4)].Exists(double.IsNaN)) Assert.Equal(2 * frames.Pulse[k], frames.Red[k], 1e-4); // beside its gap, red knows less
        }
    }

    [Fact]
    public void Rows_that_almost_share_a_time_count_as_one()
    {
        var random = new SeededRandom(9);
        var times = Lights.Uneven(Wander(9, 3000, 28, 39).SelectMany(t => random.Unit() < 0.05 ? new[] { t, t + 1 } : [t]));
        var (frames, summary) = Run(Lights.Channel(times, i => Wave(times.TimeAt(i).Seconds) + 0.2 * random.Normal()));
        Assert.Equal(times.Count - 3000, summary.JoinedRows);
        Assert.All(frames.Pulse, p => Assert.InRange(p, 40, 60)); // a slope of noise over a millisecond would throw it far off
    }

    // what | first channel | second channel | found
    [Theory]
    [InlineData("no rows", "channel 'IR'")]
    [InlineData("one row", "channel 'IR'")]
    [InlineData("one a second", "channel 'IR'")]
    [InlineData("24 a second", "channel 'IR'")]
    [InlineData("1000 a second", "channel 'IR'")]
    [InlineData("uneven, about ten a second", "channel 'IR'")]
    [InlineData("uneven, several in a millisecond", "channel 'IR'")]
    [InlineData("red at another rate", "channels 'IR' and 'RED'")]
    [InlineData("red begins later", "channels 'IR' and 'RED'")]
    [InlineData("red at other uneven times", "channels 'IR' and 'RED'")]
    [InlineData("red without rows", "channel 'RED'")]
    public void What_cannot_be_one_grid_is_refused_in_words(string what, string where)
    {
        static Channel Even(long samples, int count, long first = 0, string label = "IR") => Lights.Channel(TimeAxis.Even(new SampleTime(first), SampleRate.Of(samples, 1000), count), i => i, label);
        (Channel Pulse, Channel? Red) channels = what switch
        {
            "no rows" => (Even(100, 0), null),
            "one row" => (Lights.Channel(Lights.Uneven([5]), _ => 1), null),
            "one a second" => (Even(1, 100), null),
            "24 a second" => (Even(24, 100), null),
            "1000 a second" => (Even(1000, 100), null),
            "uneven, about ten a second" => (Lights.Channel(Wandering(1, 100, 80, 130), i => i), null),
            "uneven, several in a millisecond" => (Lights.Channel(Crowded(), i => i % 7), null),
            "red at another rate" => (Even(100, 50), Even(200, 100, label: "RED")),
            "red begins later" => (Even(100, 50), Even(100, 50, first: 10, label: "RED")),
            "red at other uneven times" => (Lights.Channel(Wandering(1, 9000, 28, 39), i => 1), Lights.Channel(OneElsewhere(), i => 1, "RED")),
            _ => (Even(100, 50), Even(100, 0, label: "RED")),
        };
        var refused = Assert.Throws<FeedRefusedException>(() => LightFeed.Of(channels.Pulse, channels.Red));
        Assert.Equal(where, refused.Where);
        Assert.Contains(refused.Found, refused.Message, StringComparison.Ordinal);
        Assert.Contains("Likely cause", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_feed_can_be_run_twice_and_looks_the_same()
    {
        var times = Wandering(seed: 11, count: 3000, least: 26, most: 41);
        var feed = LightFeed.Of(Lights.Channel(times, i => i % 31 == 0 ? double.NaN : Wave(times.TimeAt(i).Seconds)));
        var (one, other) = (new FrameCollector(), new FrameCollector());
        Assert.Equal(feed.Run(one), feed.Run(other));
        Assert.Equal(one.Pulse, other.Pulse);
        Assert.Equal(FeedGrid.Resampled, feed.Grid);
    }

    [Fact]
    public void Nothing_but_missing_numbers_is_one_gap_or_no_numbers()
    {
        var times = Wandering(seed: 12, count: 3000, least: 26, most: 41);
        var (frames, summary) = Run(Lights.Channel(times, _ => double.NaN));
        Assert.All(frames.Pulse, p => Assert.True(double.IsNaN(p)));
        Assert.Equal(summary.Samples, summary.MissingSamples);
        Assert.True(double.IsNaN(summary.Resampling!.RelativeError));
    }

    [Theory]
    [InlineData(FeedGrid.Even)]
    [InlineData(FeedGrid.Snapped)]
    [InlineData(FeedGrid.Resampled)]
    public void A_recording_ten_times_as_long_takes_no_more_memory_to_feed(FeedGrid grid)
    {
        long Allocated(int count)
        {
            var times = grid switch
            {
                FeedGrid.Even => TimeAxis.Even(default, SampleRate.Of(125, 1000), count),
                FeedGrid.Snapped => Lights.Written(30, count),
                _ => Wandering(13, count, 26, 41),
            };
            var channel = Lights.Channel(times, i => i % 100);
            var feed = LightFeed.Of(channel);
            Assert.Equal(grid, feed.Grid);
            long before = GC.GetAllocatedBytesForCurrentThread();
            feed.Run(new NoFrames());
            return GC.GetAllocatedBytesForCurrentThread() - before;
        }

        Allocated(9000); // all is compiled
        Assert.InRange(Allocated(200_000) - Allocated(20_000), -20_000, 20_000);
    }

    private sealed class NoFrames : IFrameSink
    {
        public void Take(ReadOnlySpan<double> pulse, ReadOnlySpan<double> red)
        {
        }

        public void TakeGap(long samples)
        {
        }
    }

    private static (FrameCollector Frames, FeedSummary Summary) Run(Channel pulse, Channel? red = null)
    {
        var frames = new FrameCollector();
        var feed = LightFeed.Of(pulse, red);
        var summary = feed.Run(frames);
        Assert.Equal(summary.Samples, frames.Pulse.Count);
        Assert.Equal(summary.MissingSamples, frames.Gaps.Sum(g => g.Samples));
        Assert.Equal((feed.Rate, feed.Start, feed.Grid), (summary.Rate, summary.Start, summary.Grid));
        return (frames, summary);
    }

    private static TimeAxis Wandering(ulong seed, int count, int least, int most) => Lights.Uneven(Wander(seed, count, least, most));

    private static IEnumerable<long> Wander(ulong seed, int count, int least, int most)
    {
        var random = new SeededRandom(seed);
        long time = 0;
        for (int i = 0; i < count; i++)
        {
            yield return time;
            time += least + random.Index(most - least + 1);
        }
    }

    private static TimeAxis OneElsewhere() => Lights.Uneven(Wander(1, 9000, 28, 39).Select((t, i) => i == 8500 ? t + 1 : t));

    private static TimeAxis Crowded()
    {
        var builder = new TimeAxis.Builder(mayShareMilliseconds: true);
        for (int i = 0; i < 3000; i++) builder.Add(i / 3 + (i > 1500 ? 1 : 0));
        return builder.Build();
    }

    [Theory] // rows a second | from this second on times have five digits | what is proposed
    [InlineData(125, 100, 125.0)]
    [InlineData(125, 1000, null)]
    [InlineData(100, 100, null)]
    public void Times_that_were_rounded_after_a_while_are_known_as_such_and_the_remedy_is_named(int rateHz, int coarseFrom, double? proposed)
    {
        var times = new TimeAxis.Builder(mayShareMilliseconds: true);
        int rows = 300 * rateHz;
        long last = -1;
        for (int i = 0; i < rows; i++)
        {
            long milliseconds = (long)Math.Round(1000.0 * i / rateHz);
            long written = milliseconds < 1000 * coarseFrom ? milliseconds : (long)Math.Round(milliseconds / 10.0) * 10;
            if (written > last) times.Add(last = written); // the reader keeps the first row of a time
        }

        var axis = times.Build();
        rows = axis.Count;

        var channel = new Channel("P", ChannelKind.Pleth, "", axis, CountColumn.Of(Stillwatch.Signals.Calibration.Counts, Enumerable.Range(0, rows).Select(i => (int?)(1000 * Math.Sin(i / 20.0)))));
        var summary = LightFeed.Of(channel).Run(new FrameCollector());
        Assert.Equal(proposed, summary.Resampling?.CountedHz);
        if (proposed is not null) Assert.Contains("--map time=none --rate 125", summary.Resampling!.CoarseTimesInWords);
    }
}
