using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;

namespace Stillwatch.Bench;

/// <summary>The job that all compete in: 31 limits × 301 delays, gaps as they come, clear margin 2.</summary>
internal static class MapJob
{
    public const int Margin = 2;

    public static readonly MapGrid DelaysOnly = MapGrid.SpO2Default with { Areas = [] };

    public static readonly MapRequest Request = new(LimitSide.Low, DelaysOnly, Margin * FixedPoint.One, null, ConditioningSettings.Default);

    public static int Cells => DelaysOnly.LimitsMicro.Count * DelaysOnly.Delays.Count;

    public static SettingsMap Map(ConditionedSource source) => SettingsMap.Of(source, Request, []);

    public static long[] Counts(SettingsMap map) => [.. map.ByDelay.Signals.Cast<long>()];

    public static (int Limit, int Delay) Setting(int cell) => (70 + cell / DelaysOnly.Delays.Count, cell % DelaysOnly.Delays.Count);

    public static bool IsNull(int cell) => Setting(cell).Limit + Margin > 100;

    /// <summary>One setting through the alarm engine, raw rows to signals.</summary>
    public static long Engine(ConditionedSource source, int cell)
    {
        if (IsNull(cell)) return -1;
        var (limit, delay) = Setting(cell);
        var settings = new LimitSettings<Percent>(Percent.Of(limit), Duration.FromSeconds(delay), Area.Zero, Percent.Of(Margin));
        return Replayer.RunLow(source, settings, null, ConditioningSettings.Default).Count;
    }

    /// <summary>One setting through the ordinary loop, from conditioned seconds.</summary>
    public static long Loop(ReadOnlySpan<short> seconds, int cell)
    {
        if (IsNull(cell)) return -1;
        var (limit, delay) = Setting(cell);
        return SettingLoop.Count(seconds, limit, delay, limit + Margin);
    }

    /// <exception cref="InvalidOperationException">A cell that was run differs: the times compared are then of different jobs.</exception>
    public static void SameCounts(string name, long[] expected, long[] found, long notRun = -2)
    {
        for (int i = 0; i < expected.Length; i++)
        {
            if (found[i] != expected[i] && found[i] != notRun)
                throw new InvalidOperationException($"{name}: limit and delay {Setting(i)}: found {found[i]} signals, the map says {expected[i]}.");
        }
    }
}
