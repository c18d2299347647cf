using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Storage.Samples;

/// <summary>
/// The samples of one chunk, millionths or counts, as bytes that compress well: the difference from sample to sample, small differences of
/// either sign as small numbers, and all lowest bytes before all higher ones. Two bytes a sample where 16 bits hold them, as they are or
/// as hundredths of a unit; four otherwise.
/// </summary>
internal static class SampleCodec
{
    public const int MostBytes = 1 + 4 * TimeAxis.ChunkLength;

    private const byte AsTheyAre16 = 0, Hundredths16 = 1, AsTheyAre32 = 2;

    private const int MicroInHundredth = 10_000;

    /// <summary>The bytes of up to <see cref="TimeAxis.ChunkLength"/> samples; <see cref="ValueColumn.Missing"/>, which is <see cref="CountColumn.Missing"/> too: none.</summary>
    /// <returns>How many bytes of <paramref name="to"/> were written.</returns>
    public static int Write(ReadOnlySpan<int> samples, Span<byte> to)
    {
        Span<short> shorts = stackalloc short[TimeAxis.ChunkLength];
        shorts = shorts[..samples.Length];
        if (Fit(samples, 1, shorts))
        {
            to[0] = AsTheyAre16;
            return 1 + Write16(shorts, to[1..]);
        }

        if (Fit(samples, MicroInHundredth, shorts))
        {
            to[0] = Hundredths16;
            return 1 + Write16(shorts, to[1..]);
        }

        to[0] = AsTheyAre32;
        return 1 + Write32(samples, to[1..]);
    }

    /// <exception cref="InvalidDataException">The bytes do not hold that many samples.</exception>
    public static void Read(ReadOnlySpan<byte> content, Span<int> samples)
    {
        int width = content.Length > 0 && content[0] == AsTheyAre32 ? 4 : 2;
        if (content.Length != 1 + width * samples.Length) throw new InvalidDataException($"the chunk holds {content.Length} bytes, not those of {samples.Length} samples");
        switch (content[0])
        {
            case AsTheyAre16:
                Read16(content[1..], samples, 1);
                break;
            case Hundredths16:
                Read16(content[1..], samples, MicroInHundredth);
                break;
            case AsTheyAre32:
                Read32(content[1..], samples);
                break;
            default:
                throw new InvalidDataException($"the chunk has layout {content[0]}, which is none");
        }
    }

    private static bool Fit(ReadOnlySpan<int> samples, int scale, Span<short> shorts)
    {
        for (int i = 0; i < samples.Length; i++)
        {
            int sample = samples[i];
            if (sample == ValueColumn.Missing)
            {
                shorts[i] = short.MinValue;
                continue;
            }

            int scaled = scale == 1 ? sample : sample / scale;
            if (scaled is <= short.MinValue or > short.MaxValue || scaled * scale != sample) return false;
            shorts[i] = (short)scaled;
        }

        return true;
    }

    // Differences wrap round on purpose, here and below: the one back undoes the one there, whatever the values.
    private static int Write16(ReadOnlySpan<short> samples, Span<byte> to)
    {
        unchecked
        {
            var low = to[..samples.Length];
            var high = to.Slice(samples.Length, samples.Length);
            short previous = 0;
            for (int i = 0; i < samples.Length; i++)
            {
                short step = (short)(samples[i] - previous);
                int folded = step << 1 ^ step >> 15;
                (low[i], high[i]) = ((byte)folded, (byte)(folded >> 8));
                previous = samples[i];
            }

            return 2 * samples.Length;
        }
    }

    private static void Read16(ReadOnlySpan<byte> content, Span<int> samples, int scale)
    {
        unchecked
        {
            var low = content[..samples.Length];
            var high = content.Slice(samples.Length, samples.Length);
            short value = 0;
            for (int i = 0; i < samples.Length; i++)
            {
                int folded = low[i] | high[i] << 8;
                value += (short)(folded >> 1 ^ -(folded & 1));
                samples[i] = value == short.MinValue ? ValueColumn.Missing : value * scale;
            }
        }
    }

    private static int Write32(ReadOnlySpan<int> samples, Span<byte> to)
    {
        unchecked
        {
            int previous = 0, count = samples.Length;
            for (int i = 0; i < count; i++)
            {
                int step = samples[i] - previous;
                uint folded = (uint)(step << 1 ^ step >> 31);
                for (int plane = 0; plane < 4; plane++) to[plane * count + i] = (byte)(folded >> 8 * plane);
                previous = samples[i];
            }

            return 4 * count;
        }
    }

    private static void Read32(ReadOnlySpan<byte> content, Span<int> samples)
    {
        unchecked
        {
            int value = 0, count = samples.Length;
            for (int i = 0; i < count; i++)
            {
                uint folded = (uint)(content[i] | content[count + i] << 8 | content[2 * count + i] << 16 | content[3 * count + i] << 24);
                value += (int)(folded >> 1) ^ -(int)(folded & 1);
                samples[i] = value;
            }
        }
    }
}
