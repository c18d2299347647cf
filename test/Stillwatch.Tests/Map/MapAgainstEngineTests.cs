using CsCheck;
using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;
using Xunit;

namespace Stillwatch.Tests.Map;

/// <summary>The map is the engine run once per setting, and nothing else.</summary>
public sealed class MapAgainstEngineTests
{
    private static readonly bool Full = Environment.GetEnvironmentVariable("STILLWATCH_FULL") == "1";

    [Fact]
    public void Every_cell_of_the_map_counts_the_signals_and_the_active_time_of_the_engine() =>
        MapCase.Draw(maxSegments: 14, maxRows: 200).Sample(Agrees, iter: Full ? 10_000 : 500, threads: 1, seed: Full ? null : "8ks5fTMvkRh1");

    [Fact]
    public void Every_cell_agrees_with_the_engine_on_series_of_up_to_2000_samples() =>
        MapCase.Draw(maxSegments: 200, maxRows: 2000).Sample(Agrees, iter: Full ? 1000 : 40, threads: 1, seed: Full ? null : "8ks5fTMvkRh1");

    private static void Agrees(MapCase drawn)
    {
        var source = drawn.Source;
        var map = SettingsMap.Of(source, drawn.Request, drawn.Events);
        var grid = drawn.Request.Grid;
        for (int limit = 0; limit < grid.LimitsMicro.Count; limit++)
        {
            if (drawn.Setting(limit, Duration.Zero, Area.Zero) is null) continue; // null in the map; the comparison with the twin checks that
            for (int k = 0; k < grid.Delays.Count; k++) Compare(map.ByDelay, k, grid.Delays[k], Area.Zero);
            for (int k = 0; k < grid.Areas.Count; k++) Compare(map.ByArea, k, Duration.Zero, grid.Areas[k]);

            void Compare(MapPlane plane, int k, Duration delay, Area area)
            {
                var signals = Replay(drawn, grid.LimitsMicro[limit], delay, area);
                var found = (plane.Signals[limit, k], plane.ActiveMilliseconds[limit, k]);
                var expected = ((long)signals.Count, signals.Sum(s => s.Active.Milliseconds));
                if (found != expected) throw new InvalidOperationException($"limit {grid.LimitsMicro[limit]} delay {delay} area {area}: map {found}, engine {expected}\n{drawn}");
            }
        }
    }

    private static IReadOnlyList<ReplayedSignal> Replay(MapCase drawn, int limitMicro, Duration delay, Area area)
    {
        var request = drawn.Request;
        var spO2 = new LimitSettings<Percent>(Percent.FromMicro(limitMicro), delay, area, Percent.FromMicro(request.ClearMarginMicro));
        var pulse = new LimitSettings<BeatsPerMinute>(BeatsPerMinute.FromMicro(limitMicro), delay, area, BeatsPerMinute.FromMicro(request.ClearMarginMicro));
        return (drawn.Series.IsPulse, request.Side) switch
        {
            (false, LimitSide.Low) => Replayer.RunLow(drawn.Source, spO2, request.Backstop, request.Conditioning),
            (false, _) => Replayer.RunHigh(drawn.Source, spO2, request.Conditioning),
            (true, LimitSide.Low) => Replayer.RunPulseLow(drawn.Source, pulse, request.Conditioning),
            (true, _) => Replayer.RunPulseHigh(drawn.Source, pulse, request.Conditioning),
        };
    }
}
