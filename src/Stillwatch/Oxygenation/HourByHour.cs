using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Oxygenation;

/// <summary>Cuts a series into hours from its first row on and sums up each.</summary>
internal static class HourByHour
{
    private const long HourMilliseconds = 3_600_000;

    /// <summary>
    /// Recordings longer than this leave out the hours without a value: two rows a century apart must not make a million
    /// empty hours.
    /// </summary>
    public const int HoursAlwaysListed = 366 * 24;

    /// <summary>Time at each value, hour by hour, with the hour's number; only hours with valid time.</summary>
    public static List<(int Number, TimeDistribution Distribution)> Distributions(ConditionedSeries series)
    {
        var hours = new List<(int Number, TimeDistribution Distribution)>();
        long origin = series.Start.Milliseconds;
        foreach (var piece in series.Pieces)
        {
            for (long from = piece.Start.Milliseconds; from < piece.End.Milliseconds;)
            {
                long index = (from - origin) / HourMilliseconds;
                long to = Math.Min(piece.End.Milliseconds, origin + (index + 1) * HourMilliseconds);
                int number = checked((int)(index + 1));
                if (hours.Count == 0 || hours[^1].Number != number) hours.Add((number, new TimeDistribution()));
                hours[^1].Distribution.Add(piece.Micro, to - from);
                from = to;
            }
        }

        return hours;
    }

    /// <summary>Hour by hour, given the series' own distributions, events and clusters (both null where not applicable).</summary>
    public static List<HourSummary> Summarise(
        ConditionedSeries series,
        IReadOnlyList<(int Number, TimeDistribution Distribution)> distributions,
        IReadOnlyList<DesaturationEvent>? events,
        IReadOnlyList<DipCluster>? clusters,
        OwnBaseline? baseline,
        IReadOnlyList<Percent> levels)
    {
        long count = (series.Connected.Milliseconds + HourMilliseconds - 1) / HourMilliseconds;
        var byNumber = distributions.ToDictionary(d => d.Number, d => d.Distribution);
        IEnumerable<int> numbers = count <= HoursAlwaysListed ? Enumerable.Range(1, (int)count) : distributions.Select(d => d.Number);
        var eventsIn = CountByHour(series, events?.Select(e => e.Start));
        var clustersIn = CountByHour(series, clusters?.Select(c => c.Span.Start));
        var dipsIn = DipsByHour(series, events, clusters);
        var empty = new TimeDistribution();
        var hours = new List<HourSummary>();
        foreach (int number in numbers)
        {
            var distribution = byNumber.GetValueOrDefault(number, empty);
            double? median = distribution.Quantile(50);
            double? change = baseline is not null && baseline.CanJudge(number) && median is { } m ? m - baseline.Median : null;
            var start = series.Start + new Duration((number - 1) * HourMilliseconds);
            var end = start + new Duration(HourMilliseconds);
            var hour = new HourSummary
            {
                Number = number,
                Span = new TimeSlice(start, end < series.End ? end : series.End),
                Valid = new Duration(distribution.TotalMilliseconds),
                Below = [.. levels.Select(distribution.TimeBelow)],
                Events = eventsIn is null ? null : eventsIn.GetValueOrDefault(number),
                Clusters = clustersIn is null ? null : clustersIn.GetValueOrDefault(number),
                Median = median,
                ChangeFromBaseline = change,
                Words = "",
            };
            hours.Add(hour with { Words = HourWords.Of(hour, distribution, dipsIn.GetValueOrDefault(number)) });
        }

        return hours;
    }

    private static Dictionary<int, int>? CountByHour(ConditionedSeries series, IEnumerable<SampleTime>? starts) =>
        starts?.CountBy(s => NumberOf(series, s)).ToDictionary();

    private static Dictionary<int, HourWords.Dips> DipsByHour(ConditionedSeries series, IReadOnlyList<DesaturationEvent>? events, IReadOnlyList<DipCluster>? clusters)
    {
        var dips = new Dictionary<int, HourWords.Dips>();
        int cluster = 0;
        foreach (var e in events ?? [])
        {
            while (cluster < clusters!.Count && clusters[cluster].Span.End <= e.Start) cluster++;
            bool clustered = cluster < clusters.Count && e.Start >= clusters[cluster].Span.Start;
            int number = NumberOf(series, e.Start);
            var before = dips.GetValueOrDefault(number);
            dips[number] = clustered ? before with { Clustered = before.Clustered + 1 }
                : e.Length > HourWords.LongFall ? before with { Long = before.Long + 1 }
                : before with { Single = before.Single + 1 };
        }

        return dips;
    }

    private static int NumberOf(ConditionedSeries series, SampleTime time) => checked((int)((time - series.Start).Milliseconds / HourMilliseconds + 1));
}
