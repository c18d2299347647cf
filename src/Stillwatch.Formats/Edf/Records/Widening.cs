using System.Buffers.Binary;
using System.Numerics;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Stillwatch.Formats.Edf.Records;

/// <summary>Little-endian two's complement samples of 16 and 24 bits as whole numbers.</summary>
internal static class Widening
{
    /// <param name="bytes">Whole samples.</param>
    /// <param name="bytesPerSample">2 or 3.</param>
    /// <param name="to">As many numbers as there are samples.</param>
    public static void Widen(ReadOnlySpan<byte> bytes, int bytesPerSample, Span<int> to)
    {
        if (bytesPerSample == 2) Widen16(bytes, to);
        else Widen24(bytes, to);
    }

    /// <summary>The least and the greatest; (int.MaxValue, int.MinValue) of none.</summary>
    public static (int Least, int Greatest) Ends(ReadOnlySpan<int> samples)
    {
        int least = int.MaxValue, greatest = int.MinValue, i = 0;
        if (samples.Length >= Vector<int>.Count)
        {
            var (low, high) = (new Vector<int>(int.MaxValue), new Vector<int>(int.MinValue));
            for (; i <= samples.Length - Vector<int>.Count; i += Vector<int>.Count)
            {
                var vector = new Vector<int>(samples[i..]);
                low = Vector.Min(low, vector);
                high = Vector.Max(high, vector);
            }

            for (int lane = 0; lane < Vector<int>.Count; lane++) (least, greatest) = (Math.Min(least, low[lane]), Math.Max(greatest, high[lane]));
        }

        for (; i < samples.Length; i++) (least, greatest) = (Math.Min(least, samples[i]), Math.Max(greatest, samples[i]));
        return (least, greatest);
    }

    private static void Widen16(ReadOnlySpan<byte> bytes, Span<int> to)
    {
        int count = bytes.Length / 2, i = 0;
        if (BitConverter.IsLittleEndian)
        {
            var samples = MemoryMarshal.Cast<byte, short>(bytes);
            for (; i <= count - Vector<short>.Count; i += Vector<short>.Count)
            {
                Vector.Widen(new Vector<short>(samples[i..]), out var low, out var high);
                low.CopyTo(to[i..]);
                high.CopyTo(to[(i + Vector<int>.Count)..]);
            }
        }

        for (; i < count; i++) to[i] = BinaryPrimitives.ReadInt16LittleEndian(bytes[(2 * i)..]);
    }

    private static void Widen24(ReadOnlySpan<byte> bytes, Span<int> to)
    {
        int count = bytes.Length / 3, i = 0;
        if (Vector128.IsHardwareAccelerated && BitConverter.IsLittleEndian)
        {
            // Three bytes into the upper part of each number (255 picks a zero), so that the shift brings the sign along.
            var upper = Vector128.Create((byte)255, 0, 1, 2, 255, 3, 4, 5, 255, 6, 7, 8, 255, 9, 10, 11);
            for (; 3 * i <= bytes.Length - Vector128<byte>.Count; i += 4)
            {
                var four = Vector128.Shuffle(Vector128.Create(bytes[(3 * i)..]), upper).AsInt32();
                Vector128.ShiftRightArithmetic(four, 8).CopyTo(to[i..]);
            }
        }

        for (; i < count; i++) to[i] = bytes[3 * i] | (bytes[3 * i + 1] << 8) | (unchecked((sbyte)bytes[3 * i + 2]) << 16); // the byte's upper bit is the sign
    }
}
