using Stillwatch.Time;

namespace Stillwatch.Storage.Samples;

/// <summary>The times of one chunk of an uneven axis: the steps between them. The first stands beside the chunk.</summary>
internal static class TimeCodec
{
    public const int MostBytes = VarInts.MostBytes * TimeAxis.ChunkLength;

    public static int Write(ReadOnlySpan<long> milliseconds, Span<byte> to)
    {
        int at = 0;
        for (int i = 1; i < milliseconds.Length; i++) at += VarInts.Write(to[at..], (ulong)(milliseconds[i] - milliseconds[i - 1]));
        return at;
    }

    /// <exception cref="InvalidDataException">The bytes do not hold that many times.</exception>
    public static void Read(ReadOnlySpan<byte> content, long first, Span<long> milliseconds)
    {
        int at = 0;
        long time = first;
        for (int i = 0; i < milliseconds.Length; i++)
        {
            ulong step = i > 0 ? VarInts.Read(content, ref at) : 0;
            if (step > (ulong)(long.MaxValue - Math.Max(time, 0))) throw new InvalidDataException("a time is out of range");
            milliseconds[i] = time += (long)step;
        }

        if (at != content.Length) throw new InvalidDataException("the chunk holds more times than it says");
    }
}
