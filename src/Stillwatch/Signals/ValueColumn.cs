namespace Stillwatch.Signals;

/// <summary>
/// The values of one channel, row by row, in millionths of the unit, exact; a row without a number holds <see cref="Missing"/>.
/// </summary>
/// <remarks>
/// Kept in chunks the length of a <see cref="Time.TimeAxis"/> chunk: two bytes a row where all values have at most two
/// decimals and lie within ±327, four bytes otherwise. A year at 1 Hz takes 63 MB.
/// </remarks>
public sealed class ValueColumn
{
    /// <summary>A row without a number.</summary>
    public const int Missing = int.MinValue;

    private const short MissingShort = short.MinValue;
    private const int ShortScale = 10_000; // hundredths held in a short

    private readonly List<Array> chunks; // short[] or int[]

    private ValueColumn(List<Array> chunks, int count)
    {
        this.chunks = chunks;
        Count = count;
    }

    public int Count { get; }

    public int ChunkCount => chunks.Count;

    /// <summary>The value of a row in millionths, or <see cref="Missing"/>.</summary>
    public int this[int index]
    {
        get
        {
            ArgumentOutOfRangeException.ThrowIfNegative(index);
            ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(index, Count);
            return chunks[index / Time.TimeAxis.ChunkLength] switch
            {
                short[] shorts => Widen(shorts[index % Time.TimeAxis.ChunkLength]),
                int[] ints => ints[index % Time.TimeAxis.ChunkLength],
                _ => Missing,
            };
        }
    }

    /// <summary>The hundredths of a chunk that is held as such (<see cref="short.MinValue"/>: no number); empty where it is held in millionths.</summary>
    public ReadOnlySpan<short> HundredthsOf(int chunkIndex) => chunks[chunkIndex] as short[];

    /// <summary>Writes one chunk in millionths into <paramref name="micro"/> and returns its length.</summary>
    public int CopyChunk(int chunkIndex, Span<int> micro)
    {
        switch (chunks[chunkIndex])
        {
            case short[] shorts:
                for (int i = 0; i < shorts.Length; i++) micro[i] = Widen(shorts[i]);
                return shorts.Length;
            case int[] ints:
                ints.CopyTo(micro);
                return ints.Length;
            default:
                throw new InvalidOperationException("A chunk holds shorts or ints.");
        }
    }

    /// <summary>For tests and small inputs.</summary>
    public static ValueColumn Of(IEnumerable<decimal?> values)
    {
        var builder = new Builder();
        foreach (var value in values) builder.Add(value is { } v ? Quantities.FixedPoint.ToMicro(v) : Missing);
        return builder.Build();
    }

    private static int Widen(short hundredths) => hundredths == MissingShort ? Missing : hundredths * ShortScale;

    /// <summary>Collects values in row order. Not thread-safe.</summary>
    public sealed class Builder
    {
        private readonly List<Array> chunks = [];
        private readonly int[] pending = new int[Time.TimeAxis.ChunkLength];
        private int pendingCount;
        private int count;

        public int Count => count;

        /// <param name="micro">The value in millionths, or <see cref="Missing"/>.</param>
        public void Add(int micro)
        {
            pending[pendingCount++] = micro;
            count++;
            if (pendingCount == pending.Length) Flush();
        }

        public ValueColumn Build()
        {
            if (pendingCount > 0) Flush();
            return new ValueColumn(chunks, count);
        }

        private void Flush()
        {
            var values = pending.AsSpan(0, pendingCount);
            var shorts = new short[pendingCount];
            bool fits = true;
            for (int i = 0; i < values.Length && fits; i++)
            {
                int hundredths = values[i] / ShortScale;
                if (values[i] == Missing) shorts[i] = MissingShort;
                else if (hundredths * ShortScale == values[i] && Math.Abs(hundredths) < short.MaxValue) shorts[i] = (short)hundredths;
                else fits = false;
            }

            chunks.Add(fits ? shorts : values.ToArray());
            pendingCount = 0;
        }
    }
}
