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
            if (i > 0) time += (long)VarInts.Read(content, ref at);
            milliseconds[i] = time;
        }

        if (at != content.Length) throw new InvalidDataException("the chunk holds more times than it says");
    }
}
