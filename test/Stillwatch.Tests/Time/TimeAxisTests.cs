using CsCheck;
using Stillwatch.Tests.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Tests.Time;

/// <summary>R1: period and end, and the axis that keeps the rows' times.</summary>
public sealed class TimeAxisTests
{
    [Fact]
    public void Rule_1_a_recording_ends_a_period_after_its_last_row()
    {
        var axis = TimeAxis.Even(new SampleTime(500), Duration.FromSeconds(2), 3);
        Assert.Equal(new SampleTime(6500), axis.End);
        Assert.Equal(Duration.FromSeconds(6), axis.Span);
    }

    [Theory]
    [InlineData("0 1000 2000", 1000, true)]
    [InlineData("0 1000 3000", 1000, false)] // two middle steps: the lower
    [InlineData("0 1000 2000 7000", 1000, false)]
    [InlineData("0 60000 120000 180000", 60000, true)]
    [InlineData("5", 1000, true)] // one row: one second
    public void Rule_1_an_undeclared_period_is_the_median_step(string times, long period, bool isEven)
    {
        var axis = Build(times.Split(' ').Select(long.Parse));
        Assert.Equal(new Duration(period), axis.Period);
        Assert.False(axis.IsPeriodDeclared);
        Assert.Equal(isEven, axis.IsEven);
    }

    [Fact]
    public void Rule_1_a_declared_period_stands_whatever_the_steps_are()
    {
        var axis = Build([0, 1000, 2000], Duration.FromSeconds(4));
        Assert.Equal(Duration.FromSeconds(4), axis.Period);
        Assert.True(axis.IsPeriodDeclared);
        Assert.False(axis.IsEven);
        Assert.Equal(new SampleTime(6000), axis.End);
    }

    [Fact]
    public void An_axis_gives_back_what_went_in_and_finds_it() =>
        Gen.Long[1, 5_000].Array[1, 200].Select(Gen.Long[-1_000_000, 1_000_000]).Sample((steps, first) =>
        {
            var times = new List<long> { first };
            foreach (long step in steps) times.Add(times[^1] + step);
            var axis = Build(times);
            Assert.Equal(times, Enumerable.Range(0, axis.Count).Select(i => axis.TimeAt(i).Milliseconds));
            long probe = times[times.Count / 2] + 1;
            Assert.Equal(times.TakeWhile(t => t < probe).Count(), axis.IndexAtOrAfter(new SampleTime(probe)));
            Assert.Equal(steps.Order().ElementAt((steps.Length - 1) / 2), axis.Period.Milliseconds);
        }, iter: Sampling.Cases(200));

    [Fact]
    public void Chunks_of_a_long_axis_fit_together()
    {
        // Even, then a hole far wider than an int of milliseconds, then even again: all three kinds of chunk.
        var times = Enumerable.Range(0, 10_000).Select(i => i * 1000L).Concat(Enumerable.Range(0, 10_000).Select(i => 5_000_000_000 + i * 1000L)).ToList();
        var axis = Build(times);
        var found = new List<long>();
        var buffer = new long[TimeAxis.ChunkLength];
        for (int chunk = 0; chunk < axis.ChunkCount; chunk++) found.AddRange(buffer[..axis.CopyChunk(chunk, buffer)]);
        Assert.Equal(times, found);
        Assert.Equal(new Duration(1000), axis.Period);
    }

    [Fact]
    public void A_time_that_does_not_rise_is_refused()
    {
        var builder = new TimeAxis.Builder();
        builder.Add(1000);
        Assert.Throws<ArgumentException>(() => builder.Add(1000));
        Assert.Throws<ArgumentException>(() => builder.Add(999));
    }

    [Fact]
    public void An_axis_without_rows_ends_where_it_begins()
    {
        var axis = new TimeAxis.Builder().Build();
        Assert.Equal((0, default, Duration.Zero), (axis.Count, axis.End, axis.Span));
        Assert.Throws<InvalidOperationException>(() => axis.First);
    }

    private static TimeAxis Build(IEnumerable<long> times, Duration? period = null)
    {
        var builder = new TimeAxis.Builder();
        foreach (long time in times) builder.Add(time);
        return builder.Build(period);
    }
}
