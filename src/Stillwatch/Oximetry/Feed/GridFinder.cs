using Stillwatch.Time;

namespace Stillwatch.Oximetry.Feed;

/// <summary>Finds the even grid on which a source's times lie but for rounding to milliseconds, missing rows aside; or else a rate to resample at.</summary>
/// <remarks>
/// A 30 Hz source written in milliseconds steps by 33, 33, 34. Tried are the whole rates that rounding allows around the median step, and one
/// row per median step exactly. A grid may begin anywhere within its tolerance of the first row; the bounds on that are narrowed row by row, until
/// no beginning is left or all rows have passed. 1 ms, never more than a quarter of the grid's step: a fine grid would fit anything.
/// </remarks>
internal static class GridFinder
{
    private const double ToleranceMilliseconds = 1;
    private const int HeadRows = 1000; // so many tell the rate before times become coarse, and so many that they have
    private const int CoarseMilliseconds = 10; // what five digits leave of seconds from 100 on

    /// <summary>Null: half of the rows share a millisecond with the one before.</summary>
    public static GridChoice? Find(TimeAxis times)
    {
        var milliseconds = new long[TimeAxis.ChunkLength];
        long median = MedianStep(times, milliseconds);
        if (median < 1) return null;
        var candidates = Candidates(median);
        double ordinarySum = 0;
        long ordinaryCount = 0, before = 0, first = times.First.Milliseconds, row = 0, lastFine = -1;
        for (int chunk = 0; chunk < times.ChunkCount; chunk++)
        {
            int length = times.CopyChunk(chunk, milliseconds);
            for (int i = 0; i < length; i++)
            {
                long since = milliseconds[i] - first;
                for (int c = candidates.Count - 1; c >= 0; c--)
                {
                    if (!candidates[c].Holds(since)) candidates.RemoveAt(c);
                }

                long step = since - before;
                if (2 * step >= median && 2 * step <= 3 * median) (ordinarySum, ordinaryCount) = (ordinarySum + step, ordinaryCount + 1);
                before = since;
                if (milliseconds[i] % CoarseMilliseconds != 0) lastFine = row;
                row++;
            }
        }

        if (candidates.MinBy(c => c.Jitter) is { } snapped)
            return new GridChoice(snapped.Rate, times.First, FeedGrid.Snapped)
            {
                GreatestJitterSeconds = snapped.Jitter / 1000,
                OffsetMilliseconds = snapped.Offset,
                StepMilliseconds = median,
            };
        double hertz = 1000 * ordinaryCount / ordinarySum;
        return new GridChoice(SampleRate.Of(Math.Max(1, (long)Math.Round(hertz)), 1000), times.First, FeedGrid.Resampled)
        {
            GreatestJitterSeconds = double.NaN,
            StepMilliseconds = median,
            CountedHz = row - lastFine > HeadRows ? HeadHz(times) : null,
        };
    }

    // The whole rate at which the first rows lie, each within a millisecond of its place; null: they do not, or it is a rate that coarse times can show.
    private static double? HeadHz(TimeAxis times)
    {
        long first = times.First.Milliseconds, last = times.TimeAt(HeadRows - 1).Milliseconds;
        double hertz = Math.Round(1000.0 * (HeadRows - 1) / Math.Max(1, last - first));
        if (hertz is < GridChoice.LeastHz or > GridChoice.GreatestHz || 1000 / hertz % CoarseMilliseconds == 0) return null;
        for (int i = 0; i < HeadRows; i++)
        {
            if (Math.Abs(times.TimeAt(i).Milliseconds - first - 1000 * i / hertz) > ToleranceMilliseconds) return null;
        }

        return hertz;
    }

    // The axis knows its median step, unless the source declared another period.
    private static long MedianStep(TimeAxis times, long[] milliseconds)
    {
        if (!times.IsPeriodDeclared) return times.Period.Milliseconds;
        var counted = new TimeAxis.Builder(mayShareMilliseconds: true);
        for (int chunk = 0; chunk < times.ChunkCount; chunk++)
        {
            int length = times.CopyChunk(chunk, milliseconds);
            for (int i = 0; i < length; i++) counted.Add(milliseconds[i]);
        }

        return counted.Build().Period.Milliseconds;
    }

    private static List<GridCandidate> Candidates(long median)
    {
        var candidates = new List<GridCandidate> { new(SampleRate.Of(1, median)) };
        long least = 1000 / (median + 1), greatest = median > 1 ? Math.Min(1000 / (median - 1) + 1, (long)GridChoice.GreatestHz) : (long)GridChoice.GreatestHz;
        for (long hertz = Math.Max(1, least); hertz <= greatest; hertz++)
        {
            var rate = SampleRate.Of(hertz, 1000);
            if (rate != candidates[0].Rate) candidates.Add(new GridCandidate(rate));
        }

        return candidates;
    }

    private sealed class GridCandidate(SampleRate rate)
    {
        private readonly double step = rate.Milliseconds / (double)rate.Samples;
        private double low = double.NegativeInfinity, high = double.PositiveInfinity; // where the grid may begin, from the first row
        private double least = double.PositiveInfinity, greatest = double.NegativeInfinity; // of the rows' distances from a grid that begins at the first
        private long lastIndex = -1;

        public SampleRate Rate => rate;

        public double Offset => (least + greatest) / 2;

        public double Jitter => (greatest - least) / 2;

        public bool Holds(long since)
        {
            double tolerance = Math.Min(ToleranceMilliseconds, step / 4);
            long index = (long)Math.Round(since / step);
            double off = since - index * step;
            (least, greatest) = (Math.Min(least, off), Math.Max(greatest, off));
            (low, high) = (Math.Max(low, off - tolerance), Math.Min(high, off + tolerance));
            bool holds = low <= high && index > lastIndex;
            lastIndex = index;
            return holds;
        }
    }
}
