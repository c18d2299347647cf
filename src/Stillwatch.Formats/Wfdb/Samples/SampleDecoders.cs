using System.Buffers.Binary;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Stillwatch.Formats.Wfdb.Samples;

/// <summary>The decoders of <see cref="SignalFormat"/>, as signal(5) describes each format.</summary>
internal static class SampleDecoders
{
    public static void Differences8(ReadOnlySpan<byte> bytes, Span<int> samples)
    {
        for (int i = 0; i < samples.Length; i++) samples[i] = unchecked((sbyte)bytes[i]); // two's complement
    }

    public static void Offset8(ReadOnlySpan<byte> bytes, Span<int> samples)
    {
        for (int i = 0; i < samples.Length; i++) samples[i] = bytes[i] - 128;
    }

    public static void Little16(ReadOnlySpan<byte> bytes, Span<int> samples)
    {
        int i = 0;
        if (BitConverter.IsLittleEndian && Vector128.IsHardwareAccelerated)
        {
            var words = MemoryMarshal.Cast<byte, short>(bytes);
            for (; i + 8 <= samples.Length; i += 8)
            {
                var (low, high) = Vector128.Widen(Vector128.Create(words[i..]));
                low.CopyTo(samples[i..]);
                high.CopyTo(samples[(i + 4)..]);
            }
        }

        for (; i < samples.Length; i++) samples[i] = BinaryPrimitives.ReadInt16LittleEndian(bytes[(2 * i)..]);
    }

    public static void Big16(ReadOnlySpan<byte> bytes, Span<int> samples)
    {
        for (int i = 0; i < samples.Length; i++) samples[i] = BinaryPrimitives.ReadInt16BigEndian(bytes[(2 * i)..]);
    }

    public static void Offset16(ReadOnlySpan<byte> bytes, Span<int> samples)
    {
        for (int i = 0; i < samples.Length; i++) samples[i] = BinaryPrimitives.ReadUInt16LittleEndian(bytes[(2 * i)..]) - 32768;
    }

    public static void Little24(ReadOnlySpan<byte> bytes, Span<int> samples)
    {
        for (int i = 0; i < samples.Length; i++)
        {
            int at = 3 * i;
            samples[i] = SignExtend(bytes[at] | (bytes[at + 1] << 8) | (bytes[at + 2] << 16), 24);
        }
    }

    public static void Little32(ReadOnlySpan<byte> bytes, Span<int> samples)
    {
        for (int i = 0; i < samples.Length; i++) samples[i] = BinaryPrimitives.ReadInt32LittleEndian(bytes[(4 * i)..]);
    }

    /// <summary>Low 12 bits of the first byte pair; then its 4 high bits above the third byte.</summary>
    public static void Packed212(ReadOnlySpan<byte> bytes, Span<int> samples)
    {
        int i = 0, at = 0;
        if (BitConverter.IsLittleEndian && Vector128.IsHardwareAccelerated)
        {
            // Eight samples from 12 bytes: lanes of b0,b1 | b2,b1 | b3,b4 | b5,b4 …; 16 bytes are loaded, so the last groups are left to the plain loop.
            var lanes = Vector128.Create((byte)0, 1, 2, 1, 3, 4, 5, 4, 6, 7, 8, 7, 9, 10, 11, 10);
            var first = Vector128.Create((short)-1, 0, -1, 0, -1, 0, -1, 0);
            var lowByte = Vector128.Create((short)0xFF);
            for (; i + 8 <= samples.Length && at + 16 <= bytes.Length; i += 8, at += 12)
            {
                var pairs = Vector128.Shuffle(Vector128.Create(bytes[at..]), lanes).AsInt16();
                var low = Vector128.ShiftRightArithmetic(Vector128.ShiftLeft(pairs, 4), 4);
                var high = Vector128.AndNot(Vector128.ShiftRightArithmetic(pairs, 4), lowByte) | (pairs & lowByte);
                var (left, right) = Vector128.Widen(Vector128.ConditionalSelect(first, low, high));
                left.CopyTo(samples[i..]);
                right.CopyTo(samples[(i + 4)..]);
            }
        }

        for (; i < samples.Length; i++)
        {
            samples[i] = (i & 1) == 0
                ? SignExtend(bytes[at] | ((bytes[at + 1] & 0x0F) << 8), 12)
                : SignExtend(bytes[at + 2] | ((bytes[at + 1] & 0xF0) << 4), 12);
            if ((i & 1) == 1) at += 3;
        }
    }

    /// <summary>Bits 1 to 10 of each byte pair; then their 5 highest bits, those of the first pair below.</summary>
    public static void Packed310(ReadOnlySpan<byte> bytes, Span<int> samples)
    {
        for (int i = 0; i < samples.Length; i++)
        {
            int at = i / 3 * 4;
            int first = bytes[at] | (bytes[at + 1] << 8);
            samples[i] = SignExtend((i % 3) switch
            {
                0 => first >> 1,
                1 => (bytes[at + 2] | (bytes[at + 3] << 8)) >> 1,
                _ => (first >> 11) | (bytes[at + 3] >> 3 << 5),
            }, 10);
        }
    }

    /// <summary>Ten bits each, from the low end of four bytes.</summary>
    public static void Packed311(ReadOnlySpan<byte> bytes, Span<int> samples)
    {
        for (int i = 0; i < samples.Length; i++)
        {
            int at = i / 3 * 4;
            samples[i] = SignExtend((i % 3) switch
            {
                0 => bytes[at] | (bytes[at + 1] << 8),
                1 => (bytes[at + 1] >> 2) | (bytes[at + 2] << 6),
                _ => (bytes[at + 2] >> 4) | (bytes[at + 3] << 4),
            }, 10);
        }
    }

    // What stands above the sample's own bits falls off.
    private static int SignExtend(int value, int bits) => value << (32 - bits) >> (32 - bits);
}
