using Stillwatch.Rehearsal;
using Stillwatch.Rehearsal.Scenarios;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tests.Rehearsal.Scenarios;

/// <summary>The invented monitor: right where nothing disturbs, none where nothing is to be had, absent where nothing arrives.</summary>
public sealed class ScreenNumbersTests
{
    [Fact]
    public void A_quiet_sensor_shows_the_truth_within_two_points()
    {
        foreach (var run in Rehearsed.Of("opioid-on-oxygen"))
        {
            // After 8 s of averaging: compared where the truth stood still that long.
            var still = run.Seconds.Skip(8).Where(t => Math.Abs(run.Truth(t).SiteSaturationPercent - run.Truth(t - 8).SiteSaturationPercent) < 0.5).ToList();
            Assert.True(still.Count > 3000);
            Assert.All(still, t => Assert.Equal(run.Truth(t).SiteSaturationPercent, run.Shown(t)!.Value, 2.0));
            double error = still.Average(t => run.Shown(t)!.Value - run.Truth(t).SiteSaturationPercent);
            Assert.Equal(0, error, 0.25);
        }
    }

    [Fact]
    public void Averaging_makes_the_screen_late_and_its_lowest_number_less_low()
    {
        var scenario = RehearsalScenarios.Find("preterm-periodic-breathing")!;
        double Lowest(int averagingSeconds) => (scenario with { AveragingSeconds = averagingSeconds }).Run(3).Numerics.Find(ChannelKind.SpO2)!.Values is var v
            ? Enumerable.Range(0, v.Count).Min(i => v[i]) / 1e6 : 0;
        Assert.True(Lowest(2) < Lowest(8));
        Assert.True(Lowest(8) < Lowest(16));
    }

    [Fact]
    public void A_sensor_that_is_off_gives_rows_without_numbers()
    {
        foreach (var run in Rehearsed.Of("sensor-slipped"))
        {
            foreach (int t in run.Seconds.Where(t => run.Run.Sensor[t].Off))
            {
                Assert.Null(run.Shown(t));
                Assert.Null(run.Shown(ChannelKind.PulseRate, t));
                Assert.Null(run.Shown(ChannelKind.PerfusionIndex, t));
            }

            Assert.Equal(run.Run.Seconds, run.Run.Numerics.Channels[0].Times.Count);
        }
    }

    [Fact]
    public void While_the_feed_is_lost_there_are_no_rows_at_all()
    {
        foreach (var run in Rehearsed.Of("feed-lost"))
        {
            var times = run.Run.Numerics.Channels[0].Times;
            var rows = Enumerable.Range(0, times.Count).Select(i => (int)(times.TimeAt(i).Milliseconds / 1000)).ToHashSet();
            Assert.All(run.Seconds, t => Assert.Equal(!run.Run.Sensor[t].FeedLost, rows.Contains(t)));
            Assert.Equal(new Duration(1000), times.Period);
        }
    }

    [Fact]
    public void Numbers_are_whole_and_the_averaging_is_carried_with_them()
    {
        foreach (var run in RehearsalScenarios.All.Select(s => s.Run(5, 1200)))
        {
            foreach (var channel in run.Numerics.Channels.Where(c => c.Kind is ChannelKind.SpO2 or ChannelKind.PulseRate))
                Assert.All(Enumerable.Range(0, channel.Values.Count), i => Assert.True(channel.Values[i] == ValueColumn.Missing || channel.Values[i] % 1_000_000 == 0));
            Assert.Equal(Duration.FromSeconds(run.Scenario.AveragingSeconds), run.Numerics.SourceAveraging.Window);
        }
    }
}
