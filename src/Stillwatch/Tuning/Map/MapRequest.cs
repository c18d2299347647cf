using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Tuning.Map;

/// <summary>Whether a limit is passed from above (low) or from below (high).</summary>
public enum LimitSide
{
    Low,
    High,
}

/// <summary>The grid of a settings map.</summary>
/// <param name="LimitsMicro">Rising limits in millionths of the channel's unit.</param>
/// <param name="Delays">Rising delays; the area threshold is zero on this plane.</param>
/// <param name="Areas">Rising area thresholds; the delay is zero on this plane.</param>
public sealed record MapGrid(IReadOnlyList<int> LimitsMicro, IReadOnlyList<Duration> Delays, IReadOnlyList<Area> Areas)
{
    /// <summary>Limits 70–100 % by one, delays 0–300 s by one, areas 0–600 %·s by one.</summary>
    public static readonly MapGrid SpO2Default = new(
        [.. Enumerable.Range(70, 31).Select(l => l * FixedPoint.One)],
        [.. Enumerable.Range(0, 301).Select(d => new Duration(d * 1000L))],
        [.. Enumerable.Range(0, 601).Select(a => Area.Of(a))]);
}

/// <summary>What a settings map is drawn for, beyond the recording.</summary>
/// <param name="Side">Low or high limits.</param>
/// <param name="Grid">The settings.</param>
/// <param name="ClearMarginMicro">m of rule R7; cells where limit + m &gt; 100 % are null for SpO2 (mirrored for high limits: limit − m below zero).</param>
/// <param name="Backstop">Drawn with the backstop off (null) unless asked; with it, cells with limit ≤ backstop are null (R8).</param>
/// <param name="Conditioning">Validity, averaging, hold, rounding.</param>
/// <param name="KeepTimesToSignal">Whether to keep, per must-catch event and cell, the time to signal.</param>
public sealed record MapRequest(
    LimitSide Side,
    MapGrid Grid,
    int ClearMarginMicro,
    BackstopSettings? Backstop,
    ConditioningSettings Conditioning,
    bool KeepTimesToSignal = false)
{
    /// <summary>Equal cell by cell, lists compared by their content.</summary>
    internal bool IsSameAs(MapRequest other) =>
        this with { Grid = other.Grid } == other
        && Grid.LimitsMicro.SequenceEqual(other.Grid.LimitsMicro)
        && Grid.Delays.SequenceEqual(other.Grid.Delays)
        && Grid.Areas.SequenceEqual(other.Grid.Areas);
}
