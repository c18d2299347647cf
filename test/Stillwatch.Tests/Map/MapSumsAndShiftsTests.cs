using CsCheck;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;
using Stillwatch.Tuning.MustCatch;
using Xunit;

namespace Stillwatch.Tests.Map;

/// <summary>What must hold of any map, whatever its numbers are.</summary>
public sealed class MapSumsAndShiftsTests
{
    private const string Seed = "8ks5fTMvkRh1";
    private const int Draws = 300;

    [Fact]
    public void The_sum_of_two_maps_holds_the_sum_of_every_cell_and_all_events_in_order() =>
        Gen.Select(MapCase.Draw(12, 150), MapCase.Draw(12, 150)).Sample(
            (a, b) =>
            {
                var other = b with { Request = a.Request, Series = b.Series with { IsPulse = a.Series.IsPulse } };
                var one = SettingsMap.Of(a.Source, a.Request, a.Events);
                var two = SettingsMap.Of(other.Source, a.Request, b.Events);
                var sum = SettingsMap.Sum([one, two]);
                Assert.Equal(one.Valid + two.Valid, sum.Valid);
                Assert.Equal(one.Connected + two.Connected, sum.Connected);
                Assert.Equal(one.MustCatchEvents + two.MustCatchEvents, sum.MustCatchEvents);
                foreach (var (x, y, s) in new[] { (one.ByDelay, two.ByDelay, sum.ByDelay), (one.ByArea, two.ByArea, sum.ByArea) })
                {
                    foreach (var (limit, k) in Cells(s))
                    {
                        Assert.Equal(x.IsNull(limit, k), s.IsNull(limit, k));
                        if (s.IsNull(limit, k)) continue;
                        Assert.Equal(x.Signals[limit, k] + y.Signals[limit, k], s.Signals[limit, k]);
                        Assert.Equal(x.ActiveMilliseconds[limit, k] + y.ActiveMilliseconds[limit, k], s.ActiveMilliseconds[limit, k]);
                        Assert.Equal(x.Missed[limit, k] + y.Missed[limit, k], s.Missed[limit, k]);
                        Assert.Equal(x.Late[limit, k] + y.Late[limit, k], s.Late[limit, k]);
                        for (int e = 0; e < a.Events.Count; e++) Assert.Equal(x.TimeToSignal(e, limit, k), s.TimeToSignal(e, limit, k));
                        for (int e = 0; e < b.Events.Count; e++) Assert.Equal(y.TimeToSignal(e, limit, k), s.TimeToSignal(a.Events.Count + e, limit, k));
                    }
                }
            },
            seed: Seed, iter: Draws, threads: 1);

    [Fact]
    public void Shifting_a_recording_in_time_changes_no_cell() =>
        MapCase.Draw(12, 150).Sample(
            drawn =>
            {
                const long shift = 86_400_000L * 900 + 7;
                var later = drawn with
                {
                    Series = drawn.Series with { Rows = [.. drawn.Series.Rows.Select(r => (r.Time + shift, r.Value))] },
                    Events = [.. drawn.Events.Select(e => Shifted(e, new Duration(shift)))],
                };
                SameMap(SettingsMap.Of(drawn.Source, drawn.Request, drawn.Events), SettingsMap.Of(later.Source, drawn.Request, later.Events), drawn.Events.Count);
            },
            seed: Seed, iter: Draws, threads: 1);

    [Fact]
    public void A_high_map_is_the_low_map_of_the_series_turned_upside_down() =>
        MapCase.Draw(12, 150).Sample(
            drawn =>
            {
                // A pulse of 200 − v with rules off: no validity bound and no half to round stands in the way of the mirror.
                var rows = drawn.Series.Rows.Select(r => (r.Time, Value: r.Value is { } v ? Math.Floor(v) : (decimal?)null)).ToList();
                var low = new TwinSeries(rows, drawn.Series.Period, IsPulse: true);
                var high = low with { Rows = [.. rows.Select(r => (r.Time, 200 - r.Value))] };
                var conditioning = drawn.Request.Conditioning with { Validity = ValidityRule.None, Averaging = Duration.Zero };
                var request = drawn.Request with { Side = LimitSide.Low, Backstop = null, Conditioning = conditioning };
                var mirrored = request with
                {
                    Side = LimitSide.High,
                    Grid = request.Grid with { LimitsMicro = [.. request.Grid.LimitsMicro.Reverse().Select(l => 200_000_000 - l)] },
                };
                var one = SettingsMap.Of(MapCase.SourceOf(low), request, drawn.Events);
                var two = SettingsMap.Of(MapCase.SourceOf(high), mirrored, drawn.Events);
                int last = request.Grid.LimitsMicro.Count - 1;
                foreach (var (x, y) in new[] { (one.ByDelay, two.ByDelay), (one.ByArea, two.ByArea) })
                {
                    foreach (var (limit, k) in Cells(x))
                    {
                        Assert.Equal(x.Signals[limit, k], y.Signals[last - limit, k]);
                        Assert.Equal(x.ActiveMilliseconds[limit, k], y.ActiveMilliseconds[last - limit, k]);
                        Assert.Equal(x.Missed[limit, k], y.Missed[last - limit, k]);
                    }
                }
            },
            seed: Seed, iter: Draws, threads: 1);

    [Fact]
    public void A_longer_delay_or_a_larger_area_never_signals_more_often_nor_longer_nor_misses_less() =>
        MapCase.Draw(20, 300).Sample(
            drawn =>
            {
                var map = SettingsMap.Of(drawn.Source, drawn.Request, drawn.Events);
                foreach (var plane in new[] { map.ByDelay, map.ByArea })
                {
                    foreach (var (limit, k) in Cells(plane))
                    {
                        if (k == 0 || plane.IsNull(limit, k)) continue;
                        Assert.True(plane.Signals[limit, k] <= plane.Signals[limit, k - 1]);
                        Assert.True(plane.ActiveMilliseconds[limit, k] <= plane.ActiveMilliseconds[limit, k - 1]);
                        Assert.True(plane.Missed[limit, k] >= plane.Missed[limit, k - 1]);
                    }
                }
            },
            seed: Seed, iter: Draws, threads: 1);

    [Fact]
    public void A_longer_gap_tolerance_changes_nothing_where_every_row_holds_a_value() =>
        MapCase.Draw(12, 150).Sample(
            drawn =>
            {
                var rows = drawn.Series.Rows.Select((r, i) => (i * drawn.Series.Period, (decimal?)(r.Value ?? 90m))).ToList();
                var source = MapCase.SourceOf(drawn.Series with { Rows = rows });
                var conditioning = drawn.Request.Conditioning with { Validity = ValidityRule.None };
                MapRequest With(int seconds) => drawn.Request with { Conditioning = conditioning with { GapTolerance = Duration.FromSeconds(seconds) } };
                SameMap(SettingsMap.Of(source, With(0), drawn.Events), SettingsMap.Of(source, With(30), drawn.Events), drawn.Events.Count);
            },
            seed: Seed, iter: Draws, threads: 1);

    [Fact]
    public void A_map_of_the_conditioned_series_is_the_map_of_its_rows() =>
        MapCase.Draw(12, 150).Sample(
            drawn =>
            {
                var series = ConditionedSeries.Of(drawn.Source, drawn.Request.Conditioning);
                var unaveraged = ConditionedSeries.Of(drawn.Source, drawn.Request.Conditioning with { Averaging = Duration.Zero });
                var one = SettingsMap.Of(drawn.Source, drawn.Request, drawn.Events);
                var two = SettingsMap.Of(series, drawn.Source.Quantity, unaveraged.Valid, drawn.Request, drawn.Events);
                SameMap(one, two, drawn.Events.Count);
                Assert.Equal(one.Valid, two.Valid);
                Assert.Equal(one.Connected, two.Connected);
            },
            seed: Seed, iter: Draws, threads: 1);

    [Fact]
    public void Maps_of_different_requests_or_quantities_are_not_added()
    {
        var source = ConditionedSource.Even([96, 88, 96], Duration.FromSeconds(1));
        var pulse = ConditionedSource.Even([96, 88, 96], Duration.FromSeconds(1), ConditionedQuantity.PulseRate);
        var request = new MapRequest(LimitSide.Low, MapGrid.SpO2Default, 0, null, ConditioningSettings.Default);
        var map = SettingsMap.Of(source, request, []);
        Assert.Throws<ArgumentException>(() => SettingsMap.Sum([]));
        Assert.Throws<ArgumentException>(() => SettingsMap.Sum([map, SettingsMap.Of(source, request with { ClearMarginMicro = 1 }, [])]));
        Assert.Throws<ArgumentException>(() => SettingsMap.Sum([map, SettingsMap.Of(pulse, request, [])]));
        var sameInOtherLists = request with { Grid = request.Grid with { Delays = [.. request.Grid.Delays] } };
        Assert.Equal(2 * map.ByDelay.Signals[20, 0], SettingsMap.Sum([map, SettingsMap.Of(source, sameInOtherLists, [])]).ByDelay.Signals[20, 0]);
    }

    private static MustCatchEvent Shifted(MustCatchEvent e, Duration by) => e with
    {
        Onset = e.Onset + by,
        End = e.End + by,
        Parts = [.. e.Parts.Select(p => p with { Onset = p.Onset + by, End = p.End + by })],
    };

    private static IEnumerable<(int Limit, int Threshold)> Cells(MapPlane plane) =>
        from limit in Enumerable.Range(0, plane.Signals.GetLength(0))
        from k in Enumerable.Range(0, plane.Signals.GetLength(1))
        select (limit, k);

    private static void SameMap(SettingsMap one, SettingsMap two, int events)
    {
        foreach (var (x, y) in new[] { (one.ByDelay, two.ByDelay), (one.ByArea, two.ByArea) })
        {
            Assert.Equal(x.Signals, y.Signals);
            Assert.Equal(x.ActiveMilliseconds, y.ActiveMilliseconds);
            Assert.Equal(x.Missed, y.Missed);
            Assert.Equal(x.Late, y.Late);
            foreach (var (limit, k) in Cells(x))
            {
                for (int e = 0; e < events; e++) Assert.Equal(x.TimeToSignal(e, limit, k), y.TimeToSignal(e, limit, k));
            }
        }
    }
}
