using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Oxygenation;

/// <summary>How much time a series spent at each value: time-weighted mean, quantiles and time below a level, all exact.</summary>
/// <remarks>Memory grows with the number of distinct values, not with time.</remarks>
internal sealed class TimeDistribution
{
    private readonly Dictionary<int, long> millisecondsAt = [];
    private KeyValuePair<int, long>[]? sorted;
    private Int128 weightedSum;

    public long TotalMilliseconds { get; private set; }

    public void Add(int micro, long milliseconds)
    {
        if (milliseconds <= 0) return;
        millisecondsAt[micro] = millisecondsAt.GetValueOrDefault(micro) + milliseconds;
        weightedSum += (Int128)micro * milliseconds;
        TotalMilliseconds += milliseconds;
        sorted = null;
    }

    public void Add(TimeDistribution other)
    {
        foreach (var (micro, milliseconds) in other.millisecondsAt) Add(micro, milliseconds);
    }

    /// <summary>Distinct values with their times, rising.</summary>
    public IReadOnlyList<KeyValuePair<int, long>> Sorted => sorted ??= [.. millisecondsAt.OrderBy(v => v.Key)];

    public double? Mean => TotalMilliseconds == 0 ? null : (double)weightedSum / TotalMilliseconds / FixedPoint.One;

    public int? LowestMicro => TotalMilliseconds == 0 ? null : Sorted[0].Key;

    /// <summary>The smallest value at or below which at least this share of the time was spent: always a value that occurred, never between two.</summary>
    /// <param name="percent">1–100.</param>
    public int? QuantileMicro(int percent)
    {
        if (TotalMilliseconds == 0) return null;
        Int128 below = 0;
        foreach (var (micro, milliseconds) in Sorted)
        {
            below += milliseconds;
            if (below * 100 >= (Int128)TotalMilliseconds * percent) return micro;
        }

        throw new InvalidOperationException("The times at the values do not add up to the whole.");
    }

    public double? Quantile(int percent) => InPercent(QuantileMicro(percent));

    /// <summary>Time strictly below a level.</summary>
    public Duration Below(int levelMicro) => new(Sorted.TakeWhile(v => v.Key < levelMicro).Sum(v => v.Value));

    public TimeBelow TimeBelow(Percent level)
    {
        var time = Below(level.Micro);
        return TotalMilliseconds == 0
            ? new TimeBelow(level, time, 0, 0)
            : new TimeBelow(level, time, 100.0 * time.Milliseconds / TotalMilliseconds, 60.0 * time.Milliseconds / TotalMilliseconds);
    }

    public static double? InPercent(int? micro) => micro / (double)FixedPoint.One;
}
