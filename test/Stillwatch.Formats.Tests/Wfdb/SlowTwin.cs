using Stillwatch.Formats.Wfdb.Header;

namespace Stillwatch.Formats.Tests.Wfdb;

/// <summary>
/// The slow, obvious twin: each sample is put together bit by bit from where signal(5) says that its bits are, one sample at a time, without
/// blocks, groups or refusals. It takes the header's fields as they were parsed.
/// </summary>
internal static class SlowTwin
{
    /// <summary>The bits of each sample of a group, lowest first, as (byte, bit); the sign is the last.</summary>
    private static readonly Dictionary<int, (int GroupBytes, (int Byte, int Bit)[][] Samples)> Where = new()
    {
        [8] = (1, [Run(0, 0, 8)]),
        [80] = (1, [Run(0, 0, 8)]),
        [16] = (2, [Run(0, 0, 16)]),
        [160] = (2, [Run(0, 0, 16)]),
        [61] = (2, [[.. Run(1, 0, 8), .. Run(0, 0, 8)]]),
        [24] = (3, [Run(0, 0, 24)]),
        [32] = (4, [Run(0, 0, 32)]),
        [212] = (3, [Run(0, 0, 12), [.. Run(2, 0, 8), .. Run(1, 4, 4)]]),
        [310] = (4, [Run(0, 1, 10), Run(2, 1, 10), [.. Run(1, 3, 5), .. Run(3, 3, 5)]]),
        [311] = (4, [Run(0, 0, 10), Run(1, 2, 10), Run(2, 4, 10)]),
    };

    private static readonly Dictionary<int, long> Invalid = new()
    {
        [80] = -128,
        [16] = -32768,
        [160] = -32768,
        [61] = -32768,
        [24] = -8388608,
        [32] = -2147483648,
        [212] = -2048,
        [310] = -512,
        [311] = -512,
    };

    /// <summary>The sample at a place of the file; null where the file has none there.</summary>
    public static long? Code(int format, byte[] bytes, long offset, long index)
    {
        if (!Where.TryGetValue(format, out var layout)) return null;
        var bits = layout.Samples[index % layout.Samples.Length];
        long group = offset + index / layout.Samples.Length * layout.GroupBytes;
        long value = 0;
        for (int i = 0; i < bits.Length; i++)
        {
            long at = group + bits[i].Byte;
            if (at >= bytes.Length) return null;
            if ((bytes[at] >> bits[i].Bit & 1) == 1) value += 1L << i;
        }

        if (format is 80 or 160) return value - (1L << (bits.Length - 1));
        return value >= 1L << (bits.Length - 1) ? value - (1L << bits.Length) : value;
    }

    public static bool IsInvalid(int format, long code) => Invalid.TryGetValue(format, out long invalid) && code == invalid;

    /// <summary>
    /// The counts of a signal by sample, as far as header and file have them; null: no number. Where a skew is stated the first sample is that of its frame.
    /// </summary>
    /// <param name="header">Parsed.</param>
    /// <param name="signal">One of its lines.</param>
    /// <param name="bytes">Its file.</param>
    /// <param name="frames">At most so many; null: as many as the file has.</param>
    public static List<long?> Counts(WfdbHeader header, SignalLine signal, byte[] bytes, long? frames)
    {
        int first = signal.Index, last = signal.Index;
        while (first > 0 && header.Signals[first - 1].FileName == signal.FileName) first--;
        while (last + 1 < header.Signals.Count && header.Signals[last + 1].FileName == signal.FileName) last++;
        var group = header.Signals.Skip(first).Take(last - first + 1).ToList();
        long frame = group.Sum(s => (long)(s.SamplesPerFrame ?? 1));
        long before = group.TakeWhile(s => s != signal).Sum(s => (long)(s.SamplesPerFrame ?? 1));
        int own = signal.SamplesPerFrame ?? 1;
        int format = signal.Format ?? -1;
        var counts = new List<long?>();
        long running = signal.InitialValue ?? signal.AdcZero;
        for (long f = 0; f < (frames ?? long.MaxValue) && Code(format, bytes, signal.ByteOffset, (f + 1) * frame - 1) is not null; f++)
        {
            for (int i = 0; i < own; i++)
            {
                long code = Code(format, bytes, signal.ByteOffset, f * frame + before + i)!.Value;
                if (format == 8) code = running += code;
                counts.Add(IsInvalid(format, code) || code is < int.MinValue or > int.MaxValue ? null : code);
            }
        }

        int skew = (int)Math.Min(signal.SkewFrames * own, counts.Count);
        return [.. counts.Skip(skew), .. Enumerable.Repeat<long?>(null, skew)];
    }

    private static (int, int)[] Run(int firstByte, int firstBit, int count) => [.. Enumerable.Range(firstBit, count).Select(bit => (firstByte + bit / 8, bit % 8))];
}
