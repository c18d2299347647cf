using CsCheck;
using Stillwatch.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Tests.Alarms;

/// <summary>R11: the watermark, and what is refused behind it.</summary>
public sealed class LateSampleGateTests
{
    [Fact]
    public void Without_patience_rows_pass_at_once_and_a_row_behind_is_late()
    {
        var gate = new LateSampleGate(Duration.Zero);
        Assert.Equal("10", Offer(gate, 10, GateVerdict.Accepted));
        Assert.Equal("12", Offer(gate, 12, GateVerdict.Accepted));
        Assert.Equal("", Offer(gate, 11, GateVerdict.Late));
        Assert.Equal("", Offer(gate, 12, GateVerdict.Repeated));
        Assert.Equal("13", Offer(gate, 13, GateVerdict.Accepted));
    }

    [Fact]
    public void With_patience_rows_that_come_in_another_order_are_put_right()
    {
        var gate = new LateSampleGate(Duration.FromSeconds(3));
        Assert.Equal("", Offer(gate, 10, GateVerdict.Accepted));
        Assert.Equal("", Offer(gate, 12, GateVerdict.Accepted));
        Assert.Equal("", Offer(gate, 11, GateVerdict.Accepted));
        Assert.Equal("", Offer(gate, 12, GateVerdict.Repeated));
        Assert.Equal("10 11 12", Offer(gate, 15, GateVerdict.Accepted));
        Assert.Equal("", Offer(gate, 11, GateVerdict.Late));
        Assert.Equal(SampleTime.FromSeconds(12), gate.Watermark);
    }

    [Fact]
    public void An_advance_ends_the_wait()
    {
        var gate = new LateSampleGate(Duration.FromSeconds(30));
        Offer(gate, 10, GateVerdict.Accepted);
        gate.AdvanceTo(SampleTime.FromSeconds(20));
        Assert.Equal("10", Release(gate));
        Offer(gate, 19.999m, GateVerdict.Late);
        Assert.Equal("20", Offer(gate, 20, GateVerdict.Accepted));
    }

    [Fact]
    public void A_full_gate_releases_the_earliest_instead_of_growing()
    {
        var gate = new LateSampleGate(Duration.FromSeconds(1000), capacity: 3);
        Assert.Equal("", Offer(gate, 30, GateVerdict.Accepted));
        Assert.Equal("", Offer(gate, 20, GateVerdict.Accepted));
        Assert.Equal("10", Offer(gate, 10, GateVerdict.Accepted));
        Assert.Equal("", Offer(gate, 9, GateVerdict.Late));
    }

    [Fact]
    public void What_is_released_rises_and_nothing_is_lost() =>
        Gen.Select(Gen.Int[0, 300].Array[0, 150], Gen.Int[0, 40], Gen.Int[1, 20]).Sample((seconds, patience, capacity) =>
        {
            var gate = new LateSampleGate(Duration.FromSeconds(patience), capacity);
            var released = new List<long>();
            int refused = 0;
            foreach (int second in seconds)
            {
                if (gate.Offer(new AlarmRow(SampleTime.FromSeconds(second))) != GateVerdict.Accepted) refused++;
                while (gate.TryRelease(out var row)) released.Add(row.Time.Milliseconds);
            }

            gate.AdvanceTo(SampleTime.FromSeconds(1000));
            while (gate.TryRelease(out var row)) released.Add(row.Time.Milliseconds);
            Assert.Equal(released.Distinct().Order(), released);
            Assert.Equal(seconds.Length, released.Count + refused);
        }, iter: Sampling.Cases(500));

    [Fact]
    public void Hostile_times_are_refused()
    {
        var gate = new LateSampleGate(Duration.FromSeconds(10));
        Assert.Equal(GateVerdict.Late, gate.Offer(new AlarmRow(new SampleTime(long.MaxValue))));
        Assert.Equal(GateVerdict.Late, gate.Offer(new AlarmRow(new SampleTime(long.MinValue))));
        gate.AdvanceTo(new SampleTime(long.MaxValue));
        Assert.Equal(GateVerdict.Accepted, gate.Offer(new AlarmRow(default)));
    }

    private static string Offer(LateSampleGate gate, decimal seconds, GateVerdict expected)
    {
        Assert.Equal(expected, gate.Offer(new AlarmRow(SampleTime.FromSeconds(seconds))));
        return Release(gate);
    }

    private static string Release(LateSampleGate gate)
    {
        var released = new List<string>();
        while (gate.TryRelease(out var row)) released.Add(SignalText.Seconds(row.Time));
        return string.Join(' ', released);
    }
}
