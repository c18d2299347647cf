using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Oxygenation;

/// <summary>What a trend table is asked for.</summary>
/// <param name="Selection">The stretch of the recording: the same that the graph beside the table shows.</param>
/// <param name="Interval">Length of a row; longer than zero.</param>
/// <param name="Limit">Time below this SpO2 is summed, strictly; null: not summed.</param>
/// <param name="Start">Rows begin at round clock times where the clock is known, else at multiples of the interval since the origin.</param>
public sealed record TrendRequest(TimeSlice Selection, Duration Interval, Percent? Limit, RecordingStart Start);

/// <summary>Mean, lowest and highest of one quantity over the valid time of a row.</summary>
/// <param name="Mean">Time-weighted.</param>
/// <param name="Least">Lowest compared value.</param>
/// <param name="Greatest">Highest compared value.</param>
/// <param name="Valid">Time with a value.</param>
public sealed record TrendFigures(double Mean, double Least, double Greatest, Duration Valid);

/// <summary>One row of a trend table.</summary>
/// <param name="Span">The first and the last row may be shorter than the interval.</param>
/// <param name="SpO2">Null without a valid value.</param>
/// <param name="PulseRate">Null without a valid value, or without the channel.</param>
/// <param name="Coverage">Valid SpO2 time over the row's length, 0–1.</param>
/// <param name="BelowLimit">Null where no limit was asked for.</param>
/// <param name="PhysiologicalSignals">Signals that start in the row; null: not asked for. Never added to the technical ones (R12).</param>
/// <param name="TechnicalSignals">Likewise.</param>
public sealed record TrendRow(
    TimeSlice Span,
    TrendFigures? SpO2,
    TrendFigures? PulseRate,
    double Coverage,
    Duration? BelowLimit,
    int? PhysiologicalSignals,
    int? TechnicalSignals);

/// <summary>The conditioned series in rows of an even length, so that graph and table are two views of one selection.</summary>
public static class TrendTable
{
    /// <summary>A longer table leaves out the rows in which nothing happened: two rows a century apart must not make millions of empty ones.</summary>
    public const int RowsAlwaysListed = 20_000;

    /// <param name="spO2">Null where the recording has none: every row then has no value.</param>
    /// <param name="pulseRate">Null where the recording has none.</param>
    /// <param name="request">Which rows.</param>
    /// <param name="physiological">Starts of signals; null: not asked for.</param>
    /// <param name="technical">Likewise.</param>
    /// <exception cref="ArgumentException">The interval is not longer than zero.</exception>
    public static IReadOnlyList<TrendRow> Of(
        ConditionedSeries? spO2,
        ConditionedSeries? pulseRate,
        TrendRequest request,
        IEnumerable<SampleTime>? physiological = null,
        IEnumerable<SampleTime>? technical = null)
    {
        if (request.Interval <= Duration.Zero)
            throw new ArgumentException($"Trend table: found an interval of {request.Interval}, expected one longer than zero.", nameof(request));
        var grid = new Grid(request);
        if (grid.Count == 0) return [];
        var saturation = Sums(spO2, grid, request.Limit?.Micro);
        var pulse = Sums(pulseRate, grid, null);
        var ours = Starts(physiological, grid);
        var technicals = Starts(technical, grid);
        IEnumerable<long> rows = grid.Count <= RowsAlwaysListed
            ? Range(grid.Count)
            : new[] { saturation.Keys.AsEnumerable(), pulse.Keys, ours?.Keys.AsEnumerable(), technicals?.Keys }.SelectMany(k => k ?? []).Distinct().Order();
        return [.. rows.Select(Row)];

        TrendRow Row(long index)
        {
            var span = grid.SpanOf(index);
            var sum = saturation.GetValueOrDefault(index);
            return new TrendRow(
                span, sum?.Figures, pulse.GetValueOrDefault(index)?.Figures, sum is null ? 0 : sum.Valid / (double)span.Length.Milliseconds,
                request.Limit is null ? null : new Duration(sum?.Below ?? 0), ours?.GetValueOrDefault(index), technicals?.GetValueOrDefault(index));
        }
    }

    private static IEnumerable<long> Range(long count)
    {
        for (long i = 0; i < count; i++) yield return i;
    }

    private static Dictionary<long, int>? Starts(IEnumerable<SampleTime>? starts, Grid grid) =>
        starts?.Where(grid.Contains).CountBy(s => grid.IndexOf(s.Milliseconds)).ToDictionary();

    private static Dictionary<long, Sum> Sums(ConditionedSeries? series, Grid grid, int? limitMicro)
    {
        var sums = new Dictionary<long, Sum>();
        foreach (var piece in series?.Pieces ?? [])
        {
            if (piece.End <= grid.Selection.Start) continue;
            if (piece.Start >= grid.Selection.End) break;
            long end = Math.Min(piece.End.Milliseconds, grid.Selection.End.Milliseconds);
            for (long from = Math.Max(piece.Start.Milliseconds, grid.Selection.Start.Milliseconds); from < end;)
            {
                long index = grid.IndexOf(from);
                long to = Math.Min(end, grid.SpanOf(index).End.Milliseconds);
                if (!sums.TryGetValue(index, out var sum)) sums[index] = sum = new Sum();
                sum.Add(piece.Micro, to - from, limitMicro);
                from = to;
            }
        }

        return sums;
    }

    private sealed class Grid
    {
        private readonly long origin;
        private readonly long interval;

        public Grid(TrendRequest request)
        {
            Selection = request.Selection;
            interval = request.Interval.Milliseconds;
            long start = Selection.Start.Milliseconds, onTheClock = start + ClockOffset(request.Start);
            origin = start - ((onTheClock % interval) + interval) % interval;
            Count = Selection.Length <= Duration.Zero ? 0 : (Selection.End.Milliseconds - origin + interval - 1) / interval;
        }

        public TimeSlice Selection { get; }

        public long Count { get; }

        public long IndexOf(long milliseconds) => (milliseconds - origin) / interval;

        public bool Contains(SampleTime time) => Selection.Contains(time);

        public TimeSlice SpanOf(long index)
        {
            long from = origin + index * interval;
            return new TimeSlice(
                new SampleTime(Math.Max(from, Selection.Start.Milliseconds)),
                new SampleTime(Math.Min(from + interval, Selection.End.Milliseconds)));
        }

        private static long ClockOffset(RecordingStart start) => start switch
        {
            RecordingStart.TimeOfDay t => t.Time.Ticks / TimeSpan.TicksPerMillisecond,
            RecordingStart.Local l => l.DateTime.TimeOfDay.Ticks / TimeSpan.TicksPerMillisecond,
            RecordingStart.Zoned z => z.DateTime.TimeOfDay.Ticks / TimeSpan.TicksPerMillisecond,
            _ => 0,
        };
    }

    private sealed class Sum
    {
        private Int128 weighted;
        private int least = int.MaxValue;
        private int greatest = int.MinValue;

        public long Valid { get; private set; }

        public long Below { get; private set; }

        public TrendFigures Figures => new(
            (double)weighted / Valid / FixedPoint.One, least / (double)FixedPoint.One, greatest / (double)FixedPoint.One, new Duration(Valid));

        public void Add(int micro, long milliseconds, int? limitMicro)
        {
            weighted += (Int128)micro * milliseconds;
            least = Math.Min(least, micro);
            greatest = Math.Max(greatest, micro);
            Valid += milliseconds;
            if (micro < limitMicro) Below += milliseconds;
        }
    }
}
