namespace Stillwatch.Time;

/// <summary>
/// The strictly rising times of a channel's rows, with the period P of rule R1. Rows without a number have a place here too.
/// Only a waveform of more than 1000 samples a second may have several in one millisecond.
/// </summary>
/// <remarks>
/// Kept in chunks of <see cref="ChunkLength"/> rows: an evenly spaced chunk costs a few bytes whatever its length, an uneven
/// one four bytes a row. A year at one row a second takes under a megabyte.
/// </remarks>
public sealed class TimeAxis
{
    public const int ChunkLength = 8192;

    private readonly List<Chunk> chunks;

    private TimeAxis(List<Chunk> chunks, int count, Duration period, bool isPeriodDeclared, bool isEven, SampleRate? rate)
    {
        this.chunks = chunks;
        Rate = rate;
        Count = count;
        Period = period;
        IsPeriodDeclared = isPeriodDeclared;
        IsEven = isEven;
    }

    /// <summary>Number of rows, with or without a number in them.</summary>
    public int Count { get; }

    /// <summary>P of rule R1: as declared, else the median step between rows (the lower of the two middle ones); 1 s when there is just one row.</summary>
    public Duration Period { get; }

    public bool IsPeriodDeclared { get; }

    /// <summary>Whether all steps are alike: equal to <see cref="Period"/>, or to the exact step of <see cref="Rate"/>.</summary>
    public bool IsEven { get; }

    /// <summary>The exact rate of an even axis; null for an uneven one.</summary>
    public SampleRate? Rate { get; }

    public SampleTime First => Count > 0 ? TimeAt(0) : throw new InvalidOperationException("An axis without rows has no first time.");

    public SampleTime Last => Count > 0 ? TimeAt(Count - 1) : throw new InvalidOperationException("An axis without rows has no last time.");

    /// <summary>R1: a recording ends P after its last row. The origin for an axis without rows.</summary>
    public SampleTime End => Count > 0 ? Last + Period : default;

    /// <summary>From the first row to <see cref="End"/>.</summary>
    public Duration Span => Count > 0 ? End - First : Duration.Zero;

    public int ChunkCount => chunks.Count;

    public SampleTime TimeAt(int index)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(index);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(index, Count);
        return new SampleTime(chunks[index / ChunkLength].At(index % ChunkLength));
    }

    /// <summary>Length of a chunk, and its start and step in milliseconds where the chunk has one whole step (step 0: it has not).</summary>
    public (int Length, long StartMilliseconds, long StepMilliseconds) ChunkShape(int chunkIndex)
    {
        var chunk = chunks[chunkIndex];
        return (chunk.Length, chunk.Step > 0 ? chunk.Start : chunk.At(0), chunk.Step);
    }

    /// <summary>Writes the times of one chunk in milliseconds into <paramref name="milliseconds"/> and returns their count.</summary>
    public int CopyChunk(int chunkIndex, Span<long> milliseconds)
    {
        var chunk = chunks[chunkIndex];
        for (int i = 0; i < chunk.Length; i++) milliseconds[i] = chunk.At(i);
        return chunk.Length;
    }

    /// <summary>Index of the first row at or after a time; <see cref="Count"/> if there is none.</summary>
    public int IndexAtOrAfter(SampleTime time)
    {
        int low = 0, high = Count;
        while (low < high)
        {
            int middle = low + (high - low) / 2;
            if (TimeAt(middle) < time) low = middle + 1;
            else high = middle;
        }

        return low;
    }

    /// <summary>An even axis: <paramref name="count"/> rows from <paramref name="first"/> on, one every <paramref name="period"/>.</summary>
    public static TimeAxis Even(SampleTime first, Duration period, int count)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(period.Milliseconds, 1);
        return Even(first, SampleRate.FromPeriod(period), count);
    }

    /// <summary>An even axis at an exact rate; each time is rounded to the millisecond by itself, so that nothing adds up.</summary>
    public static TimeAxis Even(SampleTime first, SampleRate rate, int count)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        var chunks = new List<Chunk>();
        for (int done = 0; done < count; done += ChunkLength)
        {
            int length = Math.Min(ChunkLength, count - done);
            chunks.Add(rate.IsWholeMilliseconds
                ? new Chunk(length, first.Milliseconds + rate.MillisecondsAt(done), rate.Milliseconds, null, null)
                : new Chunk(length, first.Milliseconds, 0, null, null, new Grid(rate, done)));
        }

        return new TimeAxis(chunks, count, rate.Period, isPeriodDeclared: true, isEven: true, rate);
    }

    private sealed record Grid(SampleRate Rate, int FirstIndex);

    private readonly record struct Chunk(int Length, long Start, long Step, int[]? Offsets, long[]? LongOffsets, Grid? Grid = null)
    {
        public long At(int index)
        {
            if (Step > 0) return Start + index * Step;
            if (Grid is not null) return Start + Grid.Rate.MillisecondsAt(Grid.FirstIndex + (long)index);
            return Start + (Offsets is not null ? Offsets[index] : LongOffsets![index]);
        }
    }

    /// <summary>Collects rising times. Not thread-safe.</summary>
    /// <param name="mayShareMilliseconds">For a waveform of more than 1000 samples a second: several rows may have the same time.</param>
    public sealed class Builder(bool mayShareMilliseconds = false)
    {
        // Past this many distinct steps the exact median is found by sorting them all at the end.
        private const int DistinctStepsHeld = 65_536;

        private readonly List<Chunk> chunks = [];
        private readonly Dictionary<long, long> stepCounts = [];
        private readonly long[] pending = new long[ChunkLength];
        private int pendingCount;
        private int count;
        private bool stepsOverflowed;

        public int Count => count;

        /// <summary>The last time added; meaningless before the first.</summary>
        public long LastMilliseconds { get; private set; }

        /// <exception cref="ArgumentException">The time does not lie after the one before it.</exception>
        public void Add(long milliseconds)
        {
            if (count > 0)
            {
                long step = milliseconds - LastMilliseconds;
                if (step < 0 || (step == 0 && !mayShareMilliseconds))
                    throw new ArgumentException($"Row {count}: found time {milliseconds} ms, expected one after {LastMilliseconds} ms.", nameof(milliseconds));
                if (!stepsOverflowed)
                {
                    ref long seen = ref System.Runtime.InteropServices.CollectionsMarshal.GetValueRefOrAddDefault(stepCounts, step, out _);
                    seen++;
                    stepsOverflowed = stepCounts.Count > DistinctStepsHeld;
                }
            }

            pending[pendingCount++] = milliseconds;
            LastMilliseconds = milliseconds;
            count++;
            if (pendingCount == ChunkLength) Flush();
        }

        /// <param name="declaredPeriod">P where the source declares it; otherwise the median step is taken.</param>
        public TimeAxis Build(Duration? declaredPeriod = null)
        {
            if (pendingCount > 0) Flush();
            var median = new Duration(count > 1 ? MedianStep() : 1000);
            var period = declaredPeriod ?? median;
            bool even = !stepsOverflowed && (stepCounts.Count == 0 || (stepCounts.Count == 1 && stepCounts.ContainsKey(period.Milliseconds)));
            return new TimeAxis(chunks, count, period, declaredPeriod is not null, even, even && period.Milliseconds > 0 ? SampleRate.FromPeriod(period) : null);
        }

        private void Flush()
        {
            long start = pending[0];
            long step = pendingCount > 1 ? pending[1] - pending[0] : 1;
            bool even = true;
            for (int i = 1; i < pendingCount && even; i++) even = pending[i] - pending[i - 1] == step;
            if (even && step > 0)
                chunks.Add(new Chunk(pendingCount, start, step, null, null));
            else if (pending[pendingCount - 1] - start <= int.MaxValue)
                chunks.Add(new Chunk(pendingCount, start, 0, Array.ConvertAll(pending[..pendingCount], t => (int)(t - start)), null));
            else
                chunks.Add(new Chunk(pendingCount, start, 0, null, Array.ConvertAll(pending[..pendingCount], t => t - start)));
            pendingCount = 0;
        }

        private long MedianStep()
        {
            long middle = (count - 2) / 2; // index of the lower middle among count - 1 steps
            if (stepsOverflowed)
            {
                var steps = new long[count - 1];
                long previous = 0;
                int index = 0;
                foreach (var chunk in chunks)
                {
                    for (int i = 0; i < chunk.Length; i++)
                    {
                        long time = chunk.At(i);
                        if (index > 0) steps[index - 1] = time - previous;
                        previous = time;
                        index++;
                    }
                }

                Array.Sort(steps);
                return steps[middle];
            }

            foreach (var (step, times) in stepCounts.OrderBy(s => s.Key))
            {
                if (middle < times) return step;
                middle -= times;
            }

            throw new InvalidOperationException("No step found: the counts do not add up to the rows.");
        }
    }
}
