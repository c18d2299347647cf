using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;
using Stillwatch.Tuning.MustCatch;
using Xunit;

namespace Stillwatch.Tests.Map;

public sealed class MapRequestTests
{
    private static readonly ConditionedSource Dip = ConditionedSource.Even([96, 96, .. Enumerable.Repeat((decimal?)87, 20), 96, 96], Duration.FromSeconds(1));

    private static readonly MapRequest Plain = new(LimitSide.Low, MapGrid.SpO2Default, 0, null, ConditioningSettings.Default);

    [Fact]
    public void A_dip_of_20_s_to_87_signals_up_to_a_delay_of_19_s_and_above_87_only()
    {
        var map = SettingsMap.Of(Dip, Plain, []);
        Assert.Equal(1, map.ByDelay.Signals[18, 19]); // limit 88
        Assert.Equal(1000, map.ByDelay.ActiveMilliseconds[18, 19]);
        Assert.Equal(0, map.ByDelay.Signals[18, 20]);
        Assert.Equal(0, map.ByDelay.Signals[17, 0]); // limit 87: equal is not below
        Assert.Equal(1, map.ByArea.Signals[20, 59]); // limit 90: 3 below for 20 s is 60 %·s, more than 59
        Assert.Equal(0, map.ByArea.Signals[20, 60]);
        Assert.Equal(Duration.FromSeconds(24), map.Valid);
        Assert.Equal(Duration.FromSeconds(24), map.Connected);
    }

    [Fact]
    public void Cells_whose_limit_and_margin_exceed_100_are_null_for_SpO2_and_only_there()
    {
        var map = SettingsMap.Of(Dip, Plain with { ClearMarginMicro = 2_000_000 }, []);
        Assert.False(map.ByDelay.IsNull(28, 0)); // 98
        Assert.True(map.ByDelay.IsNull(29, 0)); // 99
        Assert.True(map.ByArea.IsNull(30, 60));
        var pulse = ConditionedSource.Even([96, 87, 96], Duration.FromSeconds(1), ConditionedQuantity.PulseRate);
        Assert.False(SettingsMap.Of(pulse, Plain with { ClearMarginMicro = 2_000_000 }, []).ByDelay.IsNull(30, 0));
    }

    [Fact]
    public void Cells_at_or_below_the_backstop_are_null()
    {
        var map = SettingsMap.Of(Dip, Plain with { Backstop = new BackstopSettings(Percent.Of(80), Duration.Zero) }, []);
        Assert.True(map.ByDelay.IsNull(10, 0)); // 80
        Assert.False(map.ByDelay.IsNull(11, 0));
    }

    [Fact]
    public void A_backstop_signals_whatever_the_delay_or_area_threshold()
    {
        var map = SettingsMap.Of(Dip, Plain with { Backstop = new BackstopSettings(Percent.Of(88), Duration.FromSeconds(3)) }, []);
        Assert.Equal(1, map.ByDelay.Signals[20, 300]); // limit 90, delay 300 s
        Assert.Equal(17_000, map.ByDelay.ActiveMilliseconds[20, 300]);
        Assert.Equal(20_000, map.ByDelay.ActiveMilliseconds[20, 0]);
        Assert.Equal(17_000, map.ByArea.ActiveMilliseconds[20, 60]);
    }

    [Fact]
    public void A_part_that_the_signal_reaches_exactly_at_onset_plus_T_is_in_time()
    {
        // Below 87.5 from 2 s to 22 s; delay 10 s signals at 12 s.
        MustCatchEvent Within(int seconds) => new(new SampleTime(2000), new SampleTime(22_000), Percent.Of(87),
            [new MustCatchPart(new SampleTime(2000), new SampleTime(22_000), Duration.FromSeconds(seconds), "≤ 87 %")]);
        var inTime = SettingsMap.Of(Dip, Plain with { KeepTimesToSignal = true }, [Within(10)]).ByDelay;
        Assert.Equal((0, 0), (inTime.Missed[18, 10], inTime.Late[18, 10]));
        Assert.Equal(Duration.FromSeconds(10), inTime.TimeToSignal(0, 18, 10));
        Assert.Equal((0, 1), (inTime.Missed[18, 11], inTime.Late[18, 11]));
        Assert.Equal((1, 0), (inTime.Missed[18, 20], inTime.Late[18, 20]));
        Assert.Null(inTime.TimeToSignal(0, 18, 20));
    }

    [Fact]
    public void A_recording_without_rows_misses_every_event_and_signals_never()
    {
        var empty = new ConditionedSource(new Channel("SpO2", ChannelKind.SpO2, "%", TimeAxis.Even(default, Duration.FromSeconds(1), 0), ValueColumn.Of([])), ConditionedQuantity.SpO2);
        var missed = new MustCatchEvent(default, new SampleTime(5), Percent.Of(80), [new MustCatchPart(default, new SampleTime(5), Duration.Zero, "drawn")]);
        var map = SettingsMap.Of(empty, Plain, [missed]);
        Assert.Equal(1, map.ByDelay.Missed[20, 0]);
        Assert.Equal(1, map.ByArea.Missed[20, 0]);
        Assert.Equal(0, map.ByDelay.Signals[20, 0]);
        Assert.Equal(Duration.Zero, map.Valid);
    }

    [Fact]
    public void Requests_that_contradict_themselves_are_refused()
    {
        void Refused(MapRequest request) => Assert.Throws<ArgumentException>(() => SettingsMap.Of(Dip, request, []));
        Refused(Plain with { ClearMarginMicro = -1 });
        Refused(Plain with { Side = LimitSide.High, Backstop = new BackstopSettings(Percent.Of(80), Duration.Zero) });
        Refused(Plain with { Backstop = new BackstopSettings(Percent.Of(80), new Duration(-1)) });
        Refused(Plain with { Grid = Plain.Grid with { LimitsMicro = [90_000_000, 90_000_000] } });
        Refused(Plain with { Grid = Plain.Grid with { Delays = [new Duration(5), new Duration(4)] } });
        Refused(Plain with { Grid = Plain.Grid with { Areas = [new Area(-1)] } });
        Assert.Throws<ArgumentException>(() => SettingsMap.Of(Dip, Plain, [new MustCatchEvent(default, new SampleTime(5), Percent.Of(80), [])]));
    }

    [Fact]
    public void Thresholds_below_a_reach_are_counted_alike_whether_looked_up_or_searched()
    {
        var random = new Random(5);
        for (int i = 0; i < 2000; i++)
        {
            long first = random.Next(3) * random.NextInt64(1_000_000), step = random.NextInt64(1, 1_000_000_000) >> random.Next(29);
            step = Math.Max(step, 1);
            int count = random.Next(1, 500);
            long[] even = [.. Enumerable.Range(0, count).Select(k => first + k * step)];
            var thresholds = new RisingThresholds("drawn", even);
            for (int j = 0; j < 20; j++)
            {
                long reached = even[random.Next(count)] + random.Next(-2, 3);
                Assert.Equal(even.Count(t => t < reached), thresholds.CountBelow(reached));
            }
        }
    }
}
