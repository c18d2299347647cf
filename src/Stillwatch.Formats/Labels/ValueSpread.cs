using System.Buffers;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Labels;

/// <summary>What the numbers of a column are like, in millionths. Without a number, all is zero.</summary>
/// <param name="Count">Numbers.</param>
/// <param name="Min">The least.</param>
/// <param name="Max">The greatest.</param>
/// <param name="HasParts">Some number between 0 and 1.</param>
/// <param name="Positive">Numbers above 0.</param>
/// <param name="Percentages">Numbers above 0, up to 100.</param>
internal readonly record struct ValueSpread(long Count, int Min, int Max, bool HasParts, long Positive, long Percentages)
{
    public static ValueSpread Of(ValueColumn values)
    {
        long count = 0, positive = 0, percentages = 0;
        int min = int.MaxValue, max = int.MinValue;
        bool parts = false;
        int[] chunk = ArrayPool<int>.Shared.Rent(TimeAxis.ChunkLength);
        for (int c = 0; c < values.ChunkCount; c++)
        {
            int length = values.CopyChunk(c, chunk);
            foreach (int micro in chunk.AsSpan(0, length))
            {
                if (micro == ValueColumn.Missing) continue;
                count++;
                min = Math.Min(min, micro);
                max = Math.Max(max, micro);
                if (micro <= 0) continue;
                positive++;
                if (micro <= 100 * FixedPoint.One) percentages++;
                parts |= micro < FixedPoint.One;
            }
        }

        ArrayPool<int>.Shared.Return(chunk);
        return count == 0 ? default : new ValueSpread(count, min, max, parts, positive, percentages);
    }

    /// <summary>Whether the column holds anything to use: a SpO2 column of zeros is an unfilled one.</summary>
    public bool IsUsableAs(ChannelKind kind) => kind switch
    {
        ChannelKind.SpO2 or ChannelKind.InhaledOxygen => Percentages > 0,
        ChannelKind.PulseRate or ChannelKind.HeartRate or ChannelKind.PerfusionIndex => Positive > 0,
        _ => Count > 0,
    };
}
