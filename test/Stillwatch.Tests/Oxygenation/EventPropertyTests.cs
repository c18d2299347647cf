using CsCheck;
using Stillwatch.Conditioning;
using Stillwatch.Oxygenation;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;
using Xunit;

namespace Stillwatch.Tests.Oxygenation;

/// <summary>What must hold for the events of any series.</summary>
public sealed class EventPropertyTests
{
    private static readonly long Iterations = Environment.GetEnvironmentVariable("STILLWATCH_FULL") == "1" ? 100_000 : 1_000;

    /// <summary>Wandering levels, ramps, noise and holes, as long as 25 minutes.</summary>
    private static readonly Gen<decimal?[]> Rows =
        Gen.Select(Gen.Int[700, 1000], Gen.Int[1, 120], Gen.Int[0, 9], Gen.Int[0, 15]).Array[1, 25].Select(stretches =>
        {
            var rows = new List<decimal?>();
            decimal level = 96;
            int step = 0;
            foreach (var (tenths, length, kind, noise) in stretches)
            {
                decimal goal = kind < 4 ? 96 : tenths / 10m;
                for (int i = 1; i <= length; i++)
                {
                    // Half of the stretches jump, half are ramps; one in ten is a hole.
                    decimal at = kind % 2 == 0 ? goal : level + (goal - level) * i / length;
                    decimal wobble = noise < 5 ? 0 : (step++ * 7 % noise - noise / 2) / 10m;
                    rows.Add(kind == 9 ? null : Math.Clamp(Math.Round(at + wobble, 2), 50, 100));
                }

                if (kind != 9) level = goal;
            }

            return rows.ToArray();
        });

    private static List<DesaturationEvent> Find(decimal?[] rows, ConditioningSettings conditioning, long offsetMilliseconds = 0)
    {
        var source = ConditionedSource.Even(rows, Duration.FromSeconds(1));
        if (offsetMilliseconds != 0)
        {
            var shifted = TimeAxis.Even(new SampleTime(offsetMilliseconds), Duration.FromSeconds(1), rows.Length);
            source = source with { Channel = new Channel("shifted", ChannelKind.SpO2, "%", shifted, source.Channel.Values) };
        }

        return DesaturationEventTests.Find(source, conditioning);
    }

    [Fact]
    public void Events_are_in_order_apart_deep_enough_and_consistent() => Gen.Select(Rows, Gen.Bool).Sample((rows, rounded) =>
    {
        var events = Find(rows, rounded ? ConditioningSettings.Default : DesaturationEventTests.Unrounded);
        for (int i = 0; i < events.Count; i++)
        {
            var e = events[i];
            Assert.True(i == 0 || events[i - 1].End <= e.Start, "one ends before the next starts");
            Assert.True(e.Start < e.NadirTime && e.NadirTime < e.End || e.Start == e.NadirTime, "the nadir lies inside");
            Assert.True(e.Depth >= DesaturationDefinition.Fall);
            Assert.Equal(e.Baseline.Micro - e.Nadir.Micro, e.Depth.Micro);
            Assert.True(!e.IsFallOf4 || e.Depth >= DesaturationDefinition.DeepFall);
            Assert.True(e.Area.MicroMilliseconds >= 10_000L * e.Depth.Micro / 1000 && e.Area.MicroMilliseconds <= e.Length.Milliseconds * e.Depth.Micro, "area within depth times length");
            Assert.Equal(e.Ending == DesaturationEnding.Recovered, e.Recovery is not null);
        }
    }, iter: Iterations);

    [Fact]
    public void Shifting_time_shifts_the_events() => Gen.Select(Rows, Gen.Long[1, 100_000_000]).Sample((rows, offset) =>
    {
        var there = Find(rows, ConditioningSettings.Default, offset);
        var here = Find(rows, ConditioningSettings.Default);
        Assert.Equal(here.Select(e => (e.Start.Milliseconds + offset, e.End.Milliseconds + offset, e.Area)), there.Select(e => (e.Start.Milliseconds, e.End.Milliseconds, e.Area)));
    }, iter: Iterations);

    [Fact]
    public void Lifting_every_value_by_the_same_changes_no_fall() => Gen.Select(Rows, Gen.Int[-20, -1]).Sample((rows, points) =>
    {
        var lower = Array.ConvertAll(rows, v => v + points);
        Assert.Equal(
            Find(rows, DesaturationEventTests.Unrounded).Select(e => (e.Start, e.End, e.Depth, e.Area, e.IsFallOf4, e.Ending)),
            Find(lower, DesaturationEventTests.Unrounded).Select(e => (e.Start, e.End, e.Depth, e.Area, e.IsFallOf4, e.Ending)));
    }, iter: Iterations);

    /// <summary>An event is decided at the latest 13 s after its end (3 s of recovery, 10 s without a higher value): what comes later cannot change it.</summary>
    [Fact]
    public void The_future_does_not_change_an_event_that_has_recovered() => Gen.Select(Rows, Gen.Int[60, 1500]).Sample((rows, cut) =>
    {
        var whole = Find(rows, DesaturationEventTests.Unrounded);
        var early = Find(rows[..Math.Min(cut, rows.Length)], DesaturationEventTests.Unrounded);
        var decided = SampleTime.FromSeconds(Math.Min(cut, rows.Length) - 20);
        Assert.Equal(
            whole.Where(e => e.Ending == DesaturationEnding.Recovered && e.End <= decided),
            early.Where(e => e.Ending == DesaturationEnding.Recovered && e.End <= decided));
    }, iter: Iterations);

    /// <summary>The slow twin of the moving baseline: second by second.</summary>
    [Fact]
    public void The_baseline_is_the_mean_of_the_valid_seconds_among_the_120_before() => Rows.Sample(rows =>
    {
        var series = ConditionedSeries.Of(ConditionedSource.Even(rows, Duration.FromSeconds(1)), DesaturationEventTests.Unrounded);
        var seconds = new Dictionary<long, int>();
        foreach (var piece in series.Pieces)
            for (long s = piece.Start.Milliseconds / 1000; s < piece.End.Milliseconds / 1000; s++)
                seconds[s] = piece.Micro;
        int[] means = BaselineMeans.Before(series.Pieces);
        for (int i = 0; i < means.Length; i++)
        {
            long at = series.Pieces[i].Start.Milliseconds / 1000;
            var before = Enumerable.Range(1, 120).Where(back => seconds.ContainsKey(at - back)).Select(back => (decimal)seconds[at - back]).ToList();
            Assert.Equal(before.Count < 60 ? BaselineMeans.None : (int)Math.Round(before.Average(), MidpointRounding.AwayFromZero), means[i]);
        }
    }, iter: Iterations / 10);
}
