using System.Buffers;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Stillwatch.Formats.Wfdb.Samples;

/// <summary>Reads a signal file block by block and deals its samples out to the signals that are wanted.</summary>
internal static class FrameReader
{
    private const int BlockSamples = 12 * 1024; // what is decoded stays in the fast cache until it is dealt out

    /// <param name="stream">The file, seekable.</param>
    /// <param name="file">What is in it.</param>
    /// <param name="targets">One for each signal of the file; null: passed over.</param>
    /// <param name="read">Told the bytes of each block.</param>
    /// <returns>Frames read: fewer than the file had if it shrank meanwhile.</returns>
    public static long Read(Stream stream, SignalFile file, IReadOnlyList<SignalTarget?> targets, Action<int> read)
    {
        var format = file.Format;
        int frame = file.FrameLength;
        long blockFrames = Math.Min(file.FrameCount, BlockFrames(frame, format.GroupSamples));
        int[] codes = ArrayPool<int>.Shared.Rent((int)blockFrames * frame);
        int[] dealt = ArrayPool<int>.Shared.Rent((int)blockFrames * frame);
        byte[] bytes = ArrayPool<byte>.Shared.Rent((int)format.BytesOf(blockFrames * frame));
        try
        {
            stream.Position = file.ByteOffset;
            long done = 0;
            while (done < file.FrameCount)
            {
                long frames = Math.Min(blockFrames, file.FrameCount - done);
                int length = (int)format.BytesOf(frames * frame);
                int got = stream.ReadAtLeast(bytes.AsSpan(0, length), length, throwOnEndOfStream: false);
                if (got < length) frames = Math.Min(frames, format.SamplesIn(got) / frame);
                var samples = codes.AsSpan(0, (int)frames * frame);
                format.Decode(bytes.AsSpan(0, got), samples);
                Deal(samples, file, targets, dealt);
                done += frames;
                read(got);
                if (got < length) break;
            }

            return done;
        }
        finally
        {
            ArrayPool<int>.Shared.Return(codes);
            ArrayPool<int>.Shared.Return(dealt);
            ArrayPool<byte>.Shared.Return(bytes);
        }
    }

    // Blocks end where both a frame and a group of packed samples end.
    private static long BlockFrames(int frame, int group)
    {
        int frames = group / (int)System.Numerics.BigInteger.GreatestCommonDivisor(frame, group);
        return (long)frames * Math.Max(1, BlockSamples / ((long)frame * frames));
    }

    private static void Deal(Span<int> samples, SignalFile file, IReadOnlyList<SignalTarget?> targets, int[] dealt)
    {
        int frame = file.FrameLength, at = 0;
        for (int s = 0; s < targets.Count; s++)
        {
            int perFrame = file.Signals[s].SamplesPerFrame!.Value;
            if (targets[s] is { } target)
            {
                if (perFrame == frame)
                {
                    target.Take(samples);
                }
                else
                {
                    var own = dealt.AsSpan(0, samples.Length / frame * perFrame);
                    if (perFrame == 1) Stride(samples, at, frame, own);
                    else for (int i = 0; i < own.Length / perFrame; i++) samples.Slice(i * frame + at, perFrame).CopyTo(own[(i * perFrame)..]);
                    target.Take(own);
                }
            }

            at += perFrame;
        }
    }

    private static void Stride(ReadOnlySpan<int> from, int first, int step, Span<int> to)
    {
        int i = 0;
        if (step == 2 && BitConverter.IsLittleEndian && Vector128.IsHardwareAccelerated)
        {
            // Two signals: the low or the high half of each pair.
            var pairs = MemoryMarshal.Cast<int, ulong>(from);
            for (; i + 4 <= to.Length; i += 4)
            {
                var low = Vector128.Create(pairs[i..]) >>> (32 * first);
                var high = Vector128.Create(pairs[(i + 2)..]) >>> (32 * first);
                Vector128.Narrow(low, high).AsInt32().CopyTo(to[i..]);
            }
        }

        unchecked
        {
            for (int at = first + i * step; i < to.Length; i++, at += step) to[i] = from[at]; // within both by their lengths
        }
    }
}
