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

    private const long NotRun = -2;

    public static readonly MapGrid DelaysOnly = MapGrid.SpO2Default with { Areas = [] };

    public static readonly MapRequest Request = new(LimitSide.Low, DelaysOnly, Margin * FixedPoint.One, null, ConditioningSettings.Default);

    public static int Cells => DelaysOnly.LimitsMicro.Count * DelaysOnly.Delays.Count;

    public static SettingsMap Map(ConditionedSource source) => SettingsMap.Of(source, Request, []);

    /// <summary>Signals of every cell, then seconds of signal of every cell; −1 for a null cell.</summary>
    public static long[] Answer(SettingsMap map) =>
        [.. map.ByDelay.Signals.Cast<long>(), .. map.ByDelay.ActiveMilliseconds.Cast<long>().Select(ms => ms < 0 ? -1 : ms / 1000)];

    /// <summary>The answer of a way that takes one setting at a time; −2 for cells that it is not asked for.</summary>
    public static long[] Answer(Func<int, (long Signals, long Seconds)> count, int every)
    {
        var answer = new long[2 * Cells];
        Array.Fill(answer, NotRun);
        for (int cell = 0; cell < Cells; cell += every) (answer[cell], answer[Cells + cell]) = count(cell);
        return answer;
    }

    public static (int Limit, int Delay) Setting(int cell) => (70 + cell / DelaysOnly.Delays.Count, cell % DelaysOnly.Delays.Count);

    public static bool IsNull(int cell) => Setting(cell).Limit + Margin > 100;

    /// <summary>One setting through the alarm engine, raw rows to signals.</summary>
    public static (long Signals, long Seconds) Engine(ConditionedSource source, int cell)
    {
        if (IsNull(cell)) return (-1, -1);
        var (limit, delay) = Setting(cell);
        var settings = new LimitSettings<Percent>(Percent.Of(limit), Duration.FromSeconds(delay), Area.Zero, Percent.Of(Margin));
        var signals = Replayer.RunLow(source, settings, null, ConditioningSettings.Default);
        return (signals.Count, signals.Sum(s => s.Active.Milliseconds) / 1000);
    }

    /// <summary>One setting through the ordinary loop, from conditioned seconds.</summary>
    public static (long Signals, long Seconds) Loop(ReadOnlySpan<short> seconds, int cell)
    {
        if (IsNull(cell)) return (-1, -1);
        var (limit, delay) = Setting(cell);
        return SettingLoop.Count(seconds, limit, delay, limit + Margin);
    }

    /// <exception cref="InvalidOperationException">A cell that was run differs: the times compared are then of different jobs.</exception>
    public static void SameAnswer(string name, long[] expected, long[] found)
    {
        if (found.Length != expected.Length) throw new InvalidOperationException($"{name}: found {found.Length} numbers, expected {expected.Length}.");
        for (int i = 0; i < expected.Length; i++)
        {
            if (found[i] != expected[i] && found[i] != NotRun)
                throw new InvalidOperationException($"{name}: limit and delay {Setting(i % Cells)}: found {found[i]} {(i < Cells ? "signals" : "seconds of signal")}, the map says {expected[i]}.");
        }
    }
}
