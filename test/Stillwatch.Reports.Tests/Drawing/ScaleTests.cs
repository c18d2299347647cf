using CsCheck;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;

namespace Stillwatch.Reports.Tests.Drawing;

public sealed class ScaleTests
{
    private static readonly Gen<(double From, double To, double A, double B)> Values =
        Gen.Select(Gen.Double[0, 500], Gen.Double[0.5, 500], Gen.Double[0, 1], Gen.Double[0, 1]).Select(t => (t.Item1, t.Item1 + t.Item2, t.Item3, t.Item4));

    [Fact]
    public void A_larger_value_never_lies_further_back_on_any_scale() => Values.Sample(v =>
    {
        foreach (var scale in new Scale[] { new LinearScale(v.From, v.To, 50, 900), new RootScale(v.From, v.To, 50, 900, 1), new LogScale(v.From + 1, v.To + 1, 50, 900) })
        {
            double low = v.From + Math.Min(v.A, v.B) * (v.To - v.From), high = v.From + Math.Max(v.A, v.B) * (v.To - v.From);
            Assert.True(scale.At(low) <= scale.At(high) + 1e-9, $"{scale.GetType().Name} from {v.From} to {v.To}: {low} lies at {scale.At(low)}, {high} at {scale.At(high)}");
        }
    });

    [Fact]
    public void The_ends_of_a_scale_lie_at_its_ends() => Values.Sample(v =>
    {
        foreach (var scale in new Scale[] { new LinearScale(v.From, v.To, 300, 20), new RootScale(v.From, v.To, 300, 20), new LogScale(v.From + 1, v.To + 1, 300, 20) })
        {
            Assert.Equal(300, scale.At(scale.From), 6);
            Assert.Equal(20, scale.At(scale.To), 6);
        }
    });

    [Fact]
    public void A_scale_without_extent_puts_everything_in_its_middle() => Assert.Equal(150, new LinearScale(90, 90, 100, 200).At(90));

    [Fact]
    public void Ticks_lie_inside_rise_evenly_and_are_no_more_than_asked_for() =>
        Gen.Select(Gen.Double[-1000, 1000], Gen.Double[0.01, 5000], Gen.Int[2, 12]).Sample(t =>
        {
            var ticks = Ticks.Round(t.Item1, t.Item1 + t.Item2, t.Item3);
            Assert.True(ticks.Count <= t.Item3 + 1, $"{ticks.Count} ticks, asked for {t.Item3}");
            Assert.All(ticks, tick => Assert.InRange(tick, t.Item1 - t.Item2 * 1e-6, t.Item1 + t.Item2 * (1 + 1e-6)));
            for (int i = 2; i < ticks.Count; i++) Assert.Equal(ticks[1] - ticks[0], ticks[i] - ticks[i - 1], 6);
        });

    [Theory]
    [InlineData(0, 100, 5, "0 20 40 60 80 100")]
    [InlineData(70, 100, 8, "70 75 80 85 90 95 100")]
    [InlineData(0, 0.4, 5, "0 0.1 0.2 0.3 0.4")]
    [InlineData(-2, 2, 5, "-2 -1 0 1 2")]
    public void Ticks_are_round_numbers(double from, double to, int atMost, string expected) =>
        Assert.Equal(expected, string.Join(" ", Ticks.Round(from, to, atMost)));

    [Fact]
    public void Time_ticks_fall_on_round_clock_times()
    {
        var clock = new Clock(new RecordingStart.Local(new DateTime(2026, 3, 2, 22, 1, 37, DateTimeKind.Unspecified)));
        var axis = new TimeAxisScale(default, SampleTime.FromSeconds(8 * 3600), 0, 700, clock);
        Assert.Equal(["23:00", "00:00", "01:00", "02:00", "03:00", "04:00", "05:00", "06:00"], axis.TicksAt(78).Select(t => t.Label));
        Assert.Equal(["Mon 2 Mar", "Tue 3 Mar"], axis.TicksAt(78).Select(t => t.Day).OfType<string>());
    }

    [Fact]
    public void Without_a_known_start_time_ticks_count_from_the_beginning_and_no_date_is_invented()
    {
        var axis = new TimeAxisScale(default, SampleTime.FromSeconds(3 * 3600), 0, 400, new Clock(new RecordingStart.Unknown()));
        Assert.Equal(["0:00", "1:00", "2:00", "3:00"], axis.TicksAt(100).Select(t => t.Label));
        Assert.All(axis.TicksAt(100), t => Assert.Null(t.Day));
    }

    [Fact]
    public void Any_span_of_time_gets_ticks_inside_it_and_not_too_many() =>
        Gen.Select(Gen.Long[-1_000_000, 40_000_000_000], Gen.Long[1, 400L * 86_400_000]).Sample(t =>
        {
            var axis = new TimeAxisScale(new SampleTime(t.Item1), new SampleTime(t.Item1 + t.Item2), 0, 700, new Clock(new RecordingStart.TimeOfDay(new TimeOnly(21, 59, 30))));
            var ticks = axis.TicksAt(70);
            Assert.InRange(ticks.Count, 0, 11);
            Assert.All(ticks, tick => Assert.InRange(tick.Time.Milliseconds, axis.From.Milliseconds, axis.To.Milliseconds));
        });

    [Fact]
    public void Labels_are_spread_in_order_without_touching() =>
        Gen.Double[0, 200].Array[1, 8].Sample(wanted =>
        {
            double[] placed = Labels.Spread(wanted, 14, 0, 200);
            double[] inOrder = [.. Enumerable.Range(0, wanted.Length).OrderBy(i => wanted[i]).Select(i => placed[i])];
            for (int i = 1; i < inOrder.Length; i++) Assert.True(inOrder[i] - inOrder[i - 1] >= 14 - 1e-9);
            Assert.All(placed, p => Assert.InRange(p, 0, 200));
        });
}
