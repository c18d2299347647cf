using Stillwatch.Conditioning;
using Stillwatch.Quantities;

namespace Stillwatch.Tuning.Map;

/// <summary>
/// A request laid out for one pass. High limits are turned into low ones by the sign of value and limit, so that the pass knows
/// only "below"; the limits whose cells are not null form one stretch of that order.
/// </summary>
internal sealed class MapFrame
{
    private readonly bool high;
    private readonly int firstOriented;
    private readonly int limitCount;

    /// <exception cref="ArgumentException">The grid does not rise, a margin is negative, or a backstop is asked for anything but low SpO2.</exception>
    public MapFrame(MapRequest request, ConditionedQuantity quantity)
    {
        high = request.Side == LimitSide.High;
        long margin = request.ClearMarginMicro;
        if (margin < 0) throw new ArgumentException($"Clear margin: found {margin} millionths, expected zero or above.", nameof(request));
        if (request.Backstop is not null && (high || quantity != ConditionedQuantity.SpO2))
            throw new ArgumentException("Backstop: found one on a map of high limits or of pulse rate, expected it with low SpO2 limits only (R8).", nameof(request));
        var limits = request.Grid.LimitsMicro;
        for (int i = 1; i < limits.Count; i++)
        {
            if (limits[i] <= limits[i - 1])
                throw new ArgumentException($"Limits: found {limits[i]} at index {i} after {limits[i - 1]}, expected them strictly rising.", nameof(request));
        }

        limitCount = limits.Count;
        Delays = new RisingThresholds("Delays (ms)", request.Grid.Delays.Select(d => d.Milliseconds));
        Areas = new RisingThresholds("Area thresholds (millionths × ms)", request.Grid.Areas.Select(a => a.MicroMilliseconds));
        BackstopMicro = request.Backstop?.Limit.Micro;
        BackstopDelayMilliseconds = request.Backstop?.Delay.Milliseconds ?? 0;
        if (BackstopDelayMilliseconds < 0) throw new ArgumentException("Backstop delay: expected zero or above.", nameof(request));

        bool IsNull(int limit) =>
            (!high && quantity == ConditionedQuantity.SpO2 && limit + margin > 100L * FixedPoint.One)
            || (high && limit - margin < 0)
            || (BackstopMicro is { } backstop && limit <= backstop);

        var oriented = high ? limits.Reverse() : limits;
        firstOriented = oriented.TakeWhile(IsNull).Count();
        Limits = [.. oriented.Where(l => !IsNull(l)).Select(l => (long)Sign * l)];
        ClearLevels = [.. Limits.Select(l => l + margin)];
        NullLimits = [.. Enumerable.Range(0, limitCount).Where(i => IsNull(limits[i]))];
    }

    /// <summary>The limits whose cells are not null, oriented (high limits negated), rising, in millionths.</summary>
    public long[] Limits { get; }

    /// <summary>Limit + margin, in the same order: a signal ends at the first oriented value at or above it.</summary>
    public long[] ClearLevels { get; }

    /// <summary>Indices in the request of the limits whose cells are null.</summary>
    public int[] NullLimits { get; }

    public RisingThresholds Delays { get; }

    public RisingThresholds Areas { get; }

    public int? BackstopMicro { get; }

    public long BackstopDelayMilliseconds { get; }

    /// <summary>−1 for high limits.</summary>
    public int Sign => high ? -1 : 1;

    /// <summary>Number of limits asked for, null ones included.</summary>
    public int LimitCount => limitCount;

    /// <summary>Index in the request of an index into <see cref="Limits"/>.</summary>
    public int RequestIndex(int index) => high ? limitCount - 1 - firstOriented - index : firstOriented + index;
}
