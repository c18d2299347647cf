using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Alarms;

/// <summary>One alarm limit with what holds its signal back and what ends it (rule R7).</summary>
/// <param name="Limit">A low limit is passed by a value below it, a high limit by one above it; equal never.</param>
/// <param name="Delay">The alarm condition delay: a run must last longer than this.</param>
/// <param name="AreaThreshold">A run's area must grow past this; zero: no area threshold.</param>
/// <param name="ClearMargin">A low signal ends at the first value ≥ limit + margin, a high one at ≤ limit − margin.</param>
public sealed record LimitSettings<TQuantity>(TQuantity Limit, Duration Delay, Area AreaThreshold, TQuantity ClearMargin)
    where TQuantity : struct, IQuantity<TQuantity>;

/// <summary>The backstop (rule R8): a second, lower SpO2 limit with its own short delay and higher priority, which nothing can hold back.</summary>
public sealed record BackstopSettings(Percent Limit, Duration Delay);
