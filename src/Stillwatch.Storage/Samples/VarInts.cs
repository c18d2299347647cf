namespace Stillwatch.Storage.Samples;

/// <summary>Whole numbers in as few bytes as they need: seven bits a byte, the lowest first; signed ones folded so that small stay small.</summary>
internal static class VarInts
{
    public const int MostBytes = 10;

    public static int Write(Span<byte> to, ulong value)
    {
        int at = 0;
        for (; value >= 0x80; value >>= 7) to[at++] = (byte)(value & 0x7F | 0x80);
        to[at++] = (byte)value;
        return at;
    }

    public static int WriteSigned(Span<byte> to, long value) => Write(to, Fold(value));

    /// <exception cref="InvalidDataException">The bytes end within a number, or it is longer than 64 bits.</exception>
    public static ulong Read(ReadOnlySpan<byte> from, ref int at)
    {
        ulong value = 0;
        for (int shift = 0; shift < 64; shift += 7)
        {
            if (at >= from.Length) throw new InvalidDataException("the content ends within a number");
            byte next = from[at++];
            value |= (ulong)(next & 0x7F) << shift;
            if (next < 0x80) return value;
        }

        throw new InvalidDataException("a number is longer than 64 bits");
    }

    /// <summary>A number from 0 to the greatest <see cref="int"/>.</summary>
    /// <exception cref="InvalidDataException">It is greater, or the bytes end within it.</exception>
    public static int ReadCount(ReadOnlySpan<byte> from, ref int at)
    {
        ulong value = Read(from, ref at);
        return value <= int.MaxValue ? (int)value : throw new InvalidDataException("a count is out of range");
    }

    public static long ReadSigned(ReadOnlySpan<byte> from, ref int at) => Unfold(Read(from, ref at));

    // Unchecked: bits are moved, nothing is counted.
    private static ulong Fold(long value) => unchecked((ulong)(value << 1 ^ value >> 63));

    private static long Unfold(ulong value) => unchecked((long)(value >> 1) ^ -(long)(value & 1));
}
