using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Oxygenation;

/// <summary>Exposure over a whole conditioned series: time-weighted, held time counted, lost time never.</summary>
internal static class ExposureMeter
{
    private const int Bars = 101;
    private const int AreaLevelMicro = 90 * FixedPoint.One;

    /// <summary>The exposure of a series, given its own distribution and events (null where not applicable).</summary>
    public static Exposure Measure(ConditionedSeries series, TimeDistribution distribution, IReadOnlyList<DesaturationEvent>? events, ReviewOptions options)
    {
        double hours = series.Valid.Hours;
        bool counts = events is not null && hours > 0;
        return new Exposure
        {
            Below = [.. options.Levels.Select(distribution.TimeBelow)],
            Mean = distribution.Mean,
            Median = distribution.Quantile(50),
            Percentile1 = distribution.Quantile(1),
            Percentile5 = distribution.Quantile(5),
            Minimum = TimeDistribution.InPercent(distribution.LowestMicro),
            Odi3 = counts ? events!.Count / hours : null,
            Odi4 = counts ? events!.Count(e => e.IsFallOf4) / hours : null,
            DeltaIndex = counts ? DeltaIndex.Of(series) : null,
            AreaBelow90PerHour = hours > 0 ? AreaBelow90(distribution) / hours : 0,
            Histogram = Histogram(distribution, out _),
            Target = options.Target is { } target ? TimeInTarget(distribution, target) : null,
        };
    }

    /// <summary>Time at each whole percent (half away from zero); what lies outside 0–100 is in no bar.</summary>
    public static Duration[] Histogram(TimeDistribution distribution, out Duration outside)
    {
        var bars = new long[Bars];
        long beyond = 0;
        foreach (var (micro, milliseconds) in distribution.Sorted)
        {
            long percent = micro < -FixedPoint.One ? -1 : micro > Bars * FixedPoint.One ? Bars : FixedPoint.RoundToWhole(micro) / FixedPoint.One;
            if (percent is >= 0 and < Bars) bars[percent] += milliseconds;
            else beyond += milliseconds;
        }

        outside = new Duration(beyond);
        return Array.ConvertAll(bars, b => new Duration(b));
    }

    /// <summary>In %·s.</summary>
    private static double AreaBelow90(TimeDistribution distribution) =>
        (double)distribution.Sorted.TakeWhile(v => v.Key < AreaLevelMicro).Aggregate(Int128.Zero, (sum, v) => sum + ((Int128)AreaLevelMicro - v.Key) * v.Value)
        / FixedPoint.One / 1000;

    private static TargetTime TimeInTarget(TimeDistribution distribution, TargetRange target)
    {
        var below = distribution.Below(target.Low.Micro);
        var above = new Duration(distribution.Sorted.Where(v => v.Key > target.High.Micro).Sum(v => v.Value));
        return new TargetTime(target.Low, target.High, below, new Duration(distribution.TotalMilliseconds) - below - above, above);
    }
}
