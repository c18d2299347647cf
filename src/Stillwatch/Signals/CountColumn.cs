using System.Numerics;
using Stillwatch.Time;

namespace Stillwatch.Signals;

/// <summary>
/// The samples of one waveform as the converter's own counts with their <see cref="Signals.Calibration"/>: exact, at any scale, and two
/// bytes each where 16 bits hold them (four otherwise). A sample without a number holds <see cref="Missing"/>.
/// </summary>
/// <remarks>Kept in chunks the length of a <see cref="TimeAxis"/> chunk.</remarks>
public sealed class CountColumn
{
    /// <summary>A sample without a number. No source counts that far: −2³¹ is what 32-bit formats themselves call invalid.</summary>
    public const int Missing = int.MinValue;

    private const short MissingShort = short.MinValue;

    private readonly List<Array> chunks; // short[] (MissingShort: missing) or int[] (Missing)

    private CountColumn(Calibration calibration, List<Array> chunks, int count)
    {
        Calibration = calibration;
        this.chunks = chunks;
        Count = count;
    }

    public Calibration Calibration { get; }

    public int Count { get; }

    public int ChunkCount => chunks.Count;

    /// <summary>The count of a sample, or <see cref="Missing"/>.</summary>
    public int this[int index]
    {
        get
        {
            ArgumentOutOfRangeException.ThrowIfNegative(index);
            ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(index, Count);
            int at = index % TimeAxis.ChunkLength;
            return chunks[index / TimeAxis.ChunkLength] is short[] shorts ? Widen(shorts[at]) : ((int[])chunks[index / TimeAxis.ChunkLength])[at];
        }
    }

    /// <summary>Writes one chunk of counts (<see cref="Missing"/>: none) and returns its length.</summary>
    public int CopyChunk(int chunkIndex, Span<int> counts)
    {
        if (chunks[chunkIndex] is short[] shorts)
        {
            for (int i = 0; i < shorts.Length; i++) counts[i] = Widen(shorts[i]);
            return shorts.Length;
        }

        var ints = (int[])chunks[chunkIndex];
        ints.CopyTo(counts);
        return ints.Length;
    }

    /// <summary>Writes one chunk of values in the unit (NaN: none) and returns its length.</summary>
    public int CopyValues(int chunkIndex, Span<double> values)
    {
        double origin = Calibration.Origin, offset = (double)Calibration.Offset, numerator = (double)Calibration.Numerator, denominator = (double)Calibration.Denominator;
        if (chunks[chunkIndex] is short[] shorts)
        {
            for (int i = 0; i < shorts.Length; i++) values[i] = shorts[i] == MissingShort ? double.NaN : offset + (shorts[i] - origin) * numerator / denominator;
            return shorts.Length;
        }

        var ints = (int[])chunks[chunkIndex];
        for (int i = 0; i < ints.Length; i++) values[i] = ints[i] == Missing ? double.NaN : offset + (ints[i] - origin) * numerator / denominator;
        return ints.Length;
    }

    /// <summary>For tests and small inputs; null is a sample without a number.</summary>
    public static CountColumn Of(Calibration calibration, IEnumerable<int?> counts)
    {
        var builder = new Builder();
        foreach (int? count in counts) builder.Add(count ?? Missing);
        return builder.Build(calibration);
    }

    private static int Widen(short count) => count == MissingShort ? Missing : count;

    private static bool FitInShorts(ReadOnlySpan<int> samples)
    {
        int i = 0;
        var (missing, least, greatest) = (new Vector<int>(Missing), new Vector<int>(short.MinValue + 1), new Vector<int>(short.MaxValue));
        for (; i <= samples.Length - Vector<int>.Count; i += Vector<int>.Count)
        {
            var several = new Vector<int>(samples[i..]);
            var beyond = Vector.LessThan(several, least) | Vector.GreaterThan(several, greatest);
            if (Vector.AndNot(beyond, Vector.Equals(several, missing)) != Vector<int>.Zero) return false;
        }

        foreach (int sample in samples[i..])
        {
            if (sample != Missing && sample is <= short.MinValue or > short.MaxValue) return false;
        }

        return true;
    }

    private static short[] Narrow(ReadOnlySpan<int> samples)
    {
        var shorts = GC.AllocateUninitializedArray<short>(samples.Length);
        int i = 0;
        var missing = new Vector<int>(MissingShort); // the greater of it and a sample is the sample, or stands for the missing one
        for (; i <= samples.Length - Vector<short>.Count; i += Vector<short>.Count)
        {
            var (low, high) = (new Vector<int>(samples[i..]), new Vector<int>(samples[(i + Vector<int>.Count)..]));
            Vector.Narrow(Vector.Max(low, missing), Vector.Max(high, missing)).CopyTo(shorts, i);
        }

        for (; i < samples.Length; i++) shorts[i] = samples[i] == Missing ? MissingShort : (short)samples[i];
        return shorts;
    }

    /// <summary>Collects samples in order. Not thread-safe.</summary>
    public sealed class Builder
    {
        private readonly List<Array> chunks = [];
        private readonly int[] pending = new int[TimeAxis.ChunkLength];
        private int pendingCount;
        private int count;

        public int Count => count;

        /// <param name="sample">The count, or <see cref="Missing"/>.</param>
        public void Add(int sample)
        {
            pending[pendingCount++] = sample;
            count = checked(count + 1);
            if (pendingCount == pending.Length) Flush();
        }

        public void Add(ReadOnlySpan<int> samples)
        {
            while (samples.Length > 0)
            {
                int length = Math.Min(samples.Length, pending.Length - pendingCount);
                samples[..length].CopyTo(pending.AsSpan(pendingCount));
                pendingCount += length;
                count = checked(count + length);
                samples = samples[length..];
                if (pendingCount == pending.Length) Flush();
            }
        }

        public CountColumn Build(Calibration calibration)
        {
            if (pendingCount > 0) Flush();
            return new CountColumn(calibration, chunks, count);
        }

        private void Flush()
        {
            var samples = pending.AsSpan(0, pendingCount);
            chunks.Add(FitInShorts(samples) ? Narrow(samples) : samples.ToArray());
            pendingCount = 0;
        }
    }
}
