using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Edf.Writing;

/// <summary>
/// Finds how a waveform's counts are written: as they are, under the scale of their source where the header can state it, or under other ends
/// of the same line; rounded where neither is possible.
/// </summary>
internal sealed class CountScaling(CountColumn counts, SampleWidth width)
{
    // More than all counts of 16 bits; of 24 bits, enough to meet one whose value is short.
    private const int CountsTried = 70_000;

    private readonly int[] chunk = new int[TimeAxis.ChunkLength];
    private readonly Calibration from = counts.Calibration;
    private bool hasMissing;
    private int least = int.MaxValue, greatest = int.MinValue;

    /// <param name="hasPlacesWithoutRow">Whether a code for those is needed.</param>
    /// <param name="where">The channel, for messages.</param>
    /// <exception cref="UnwritableRecordingException">Its values need more than eight digits.</exception>
    public SignalCounts Find(bool hasPlacesWithoutRow, string where)
    {
        Look();
        bool isEmpty = least > greatest;
        bool fits = isEmpty || (least >= width.Lowest && greatest <= width.Highest);
        if (fits && (SourceScale() ?? OtherEnds(isEmpty)) is { } scale && Codes(isEmpty, hasPlacesWithoutRow) is { } codes)
            return new SignalCounts.AsTheyAre(scale, codes.NoNumber, codes.NoRow) { HasRowsWithoutNumber = hasMissing };
        return isEmpty
            ? new SignalCounts.AsTheyAre(SignalScale.Empty, width.Lowest, width.Lowest + 1) { HasRowsWithoutNumber = hasMissing }
            : new SignalCounts.Rounded(RoundingScale(where), from, width.Lowest, width.Lowest + 1) { HasRowsWithoutNumber = hasMissing, IsRounded = true };
    }

    private void Look()
    {
        for (int c = 0; c < counts.ChunkCount; c++)
        {
            int length = counts.CopyChunk(c, chunk);
            foreach (int count in chunk.AsSpan(0, length))
            {
                if (count == CountColumn.Missing)
                {
                    hasMissing = true;
                    continue;
                }

                if (count < least) least = count;
                if (count > greatest) greatest = count;
            }
        }
    }

    private SignalScale? SourceScale()
    {
        if (from.Denominator != decimal.Truncate(from.Denominator) || from.Denominator > (long)width.Highest - width.Lowest) return null;
        long end = from.Origin + (long)from.Denominator;
        return from.Origin < width.Lowest || end > width.Highest ? null : Scale((int)from.Origin, (int)end);
    }

    // From the ends of the format inwards, then from the counts outwards.
    private SignalScale? OtherEnds(bool isEmpty)
    {
        int low = isEmpty ? 0 : least, high = isEmpty ? 1 : greatest;
        int? minimum = FirstStated(width.Lowest, low, 1) ?? FirstStated(low, width.Lowest, -1);
        int? maximum = FirstStated(width.Highest, high, -1) ?? FirstStated(high, width.Highest, 1);
        return minimum is { } first && maximum is { } last && first < last ? Scale(first, last) : null;
    }

    private int? FirstStated(int start, int end, int step)
    {
        long tried = 0;
        for (long count = start; tried < CountsTried && (step > 0 ? count <= end : count >= end); count += step, tried++)
        {
            if (Stated((int)count) is not null) return (int)count;
        }

        return null;
    }

    private SignalScale? Scale(int low, int high) =>
        Stated(low) is { } physicalLow && Stated(high) is { } physicalHigh && physicalLow != physicalHigh ? new SignalScale(low, high, physicalLow, physicalHigh) : null;

    // The value of a count where eight characters hold it exactly: (value − offset) · denominator = (count − origin) · numerator.
    private decimal? Stated(int count)
    {
        try
        {
            decimal rise = (count - from.Origin) * from.Numerator;
            decimal value = decimal.Round(from.Offset + rise / from.Denominator, 7);
            return HeaderNumber.TextOf(value) is not null && (value - from.Offset) * from.Denominator == rise ? value : null;
        }
        catch (OverflowException)
        {
            return null;
        }
    }

    private (int NoNumber, int NoRow)? Codes(bool isEmpty, bool hasPlacesWithoutRow)
    {
        if (isEmpty || least >= width.LowestNumber || (!hasMissing && !hasPlacesWithoutRow)) return (width.Lowest, width.Lowest + 1);
        var used = new UsedCounts(width);
        for (int c = 0; c < counts.ChunkCount; c++)
        {
            int length = counts.CopyChunk(c, chunk);
            foreach (int count in chunk.AsSpan(0, length))
            {
                if (count != CountColumn.Missing) used.Add(count);
            }
        }

        return used.Codes();
    }

    private SignalScale RoundingScale(string where)
    {
        double one = from.ValueOf(least), other = from.ValueOf(greatest);
        double low = Math.Min(one, other), high = Math.Max(one, other);
        if (HeaderNumber.Outwards(low, up: false) is { } physicalLow && HeaderNumber.Outwards(Math.Max(high, low + 1e-5), up: true) is { } physicalHigh && physicalLow < physicalHigh)
            return new SignalScale(width.LowestNumber, width.Highest, physicalLow, physicalHigh);
        throw new UnwritableRecordingException($"values from {low:g6} to {high:g6}", "ends of a scale that eight characters can state", where, "WFDB, Parquet or JSON, or another unit");
    }
}
