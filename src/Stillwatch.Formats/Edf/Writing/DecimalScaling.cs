using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Edf.Writing;

/// <summary>
/// Finds a scale on which every value of a column lies on a count and comes back to the millionth, as the header can state it; where there
/// is none, one that rounds.
/// </summary>
/// <remarks>A scale counts as exact only after every value has gone to its count and back by the arithmetic that a reader uses.</remarks>
internal sealed class DecimalScaling(ValueColumn values, ChannelKind kind, SampleWidth width)
{
    // Steps outwards from the values in search of an end that eight characters can state: ends that are whole units lie among them.
    private const int PlacesTried = 20_000;
    private const long OneMicro = 1_000_000;

    // Scales that converters are often given (common practice, no source): values read from such a file lie on no decimal grid.
    private static readonly (decimal Minimum, decimal Maximum)[] UsualValues =
        [(0, 100), (0, 110), (0, 120), (0, 125), (0, 127), (0, 128), (0, 150), (0, 200), (0, 240), (0, 250), (0, 255), (0, 256), (0, 300), (0, 350), (0, 400), (0, 500), (0, 1000), (-100, 100), (50, 100), (0, 10), (0, 20), (0, 25), (0, 1)];

    private static readonly (int Minimum, int Maximum)[] UsualCounts =
        [(-32768, 32767), (-32767, 32767), (0, 32767), (-2048, 2047), (0, 4095), (0, 1023), (0, 255), (-8388608, 8388607), (-8388607, 8388607), (0, 8388607), (0, 65535)];

    private readonly int[] chunk = new int[TimeAxis.ChunkLength];
    private bool hasMissing;
    private int minimum = int.MaxValue, maximum = int.MinValue;
    private long step;

    public SignalCounts Find()
    {
        Look();
        if (minimum > maximum) return Counts(SignalScale.Empty, (width.Lowest, width.Lowest + 1), isRounded: false);
        foreach (var scale in Candidates())
        {
            if (TryExact(scale) is { } codes) return Counts(scale, codes, isRounded: false);
        }

        double low = minimum / 1e6, high = maximum / 1e6;
        var rounding = new SignalScale(width.LowestNumber, width.Highest, HeaderNumber.Outwards(low, up: false)!.Value, HeaderNumber.Outwards(Math.Max(high, low + 0.01), up: true)!.Value);
        return Counts(rounding, (width.Lowest, width.Lowest + 1), isRounded: true);
    }

    private SignalCounts.OfDecimals Counts(SignalScale scale, (int NoNumber, int NoRow) codes, bool isRounded) =>
        new(scale, codes.NoNumber, codes.NoRow) { HasRowsWithoutNumber = hasMissing, IsRounded = isRounded };

    // Extremes, and the greatest common step of all values.
    private void Look()
    {
        int reference = ValueColumn.Missing, previous = ValueColumn.Missing;
        for (int c = 0; c < values.ChunkCount; c++)
        {
            int length = values.CopyChunk(c, chunk);
            foreach (int micro in chunk.AsSpan(0, length))
            {
                if (micro == previous && micro != ValueColumn.Missing) continue;
                previous = micro;
                if (micro == ValueColumn.Missing)
                {
                    hasMissing = true;
                    continue;
                }

                if (reference == ValueColumn.Missing) reference = micro;
                else if (step != 1) step = (long)ChannelGrid.GreatestCommonDivisor((long)micro - reference, step);
                minimum = Math.Min(minimum, micro);
                maximum = Math.Max(maximum, micro);
            }
        }
    }

    private IEnumerable<SignalScale> Candidates()
    {
        long throughZero = (long)ChannelGrid.GreatestCommonDivisor(step, minimum);
        long[] steps = [(long)ChannelGrid.GreatestCommonDivisor(throughZero, OneMicro), throughZero, step];
        foreach (long one in steps.Distinct())
        {
            if (one > 0 && Lattice(one) is { } scale) yield return scale;
        }

        foreach (var (physicalMinimum, physicalMaximum) in UsualValues)
        {
            if (physicalMinimum * OneMicro > minimum || physicalMaximum * OneMicro < maximum) continue;
            foreach (var (digitalMinimum, digitalMaximum) in UsualCounts)
            {
                if (digitalMinimum >= width.Lowest && digitalMaximum <= width.Highest) yield return new SignalScale(digitalMinimum, digitalMaximum, physicalMinimum, physicalMaximum);
            }
        }
    }

    // A count for every step; the ends lie on the steps too, and may lie beyond the values to be short enough for the header.
    private SignalScale? Lattice(long one)
    {
        long countsLeft = width.Highest - (long)width.LowestNumber;
        long zero = 0, hundred = 100 * OneMicro;
        bool fromZero = minimum >= 0 && minimum % one == 0 && maximum / one <= countsLeft;
        if ((fromZero ? zero : End(minimum, -one)) is not { } low) return null;
        bool toHundred = kind is ChannelKind.SpO2 or ChannelKind.InhaledOxygen && maximum <= hundred && (hundred - low) % one == 0 && (hundred - low) / one <= countsLeft && hundred > low;
        if ((toHundred ? hundred : End(Math.Max(maximum, low + one), one)) is not { } high || (high - low) / one > countsLeft) return null;
        bool countsAreSteps = low % one == 0 && low / one >= width.LowestNumber && high / one <= width.Highest;
        int digitalLow = countsAreSteps ? (int)(low / one) : width.LowestNumber;
        return new SignalScale(digitalLow, (int)(digitalLow + (high - low) / one), low / (decimal)OneMicro, high / (decimal)OneMicro);
    }

    private static long? End(long from, long by)
    {
        for (int i = 0; i < PlacesTried; i++, from += by)
        {
            if (HeaderNumber.Fits(from)) return from;
        }

        return null;
    }

    // Every value there and back. Returns the codes for what is no number, which no value may take; null: the scale is not exact.
    private (int NoNumber, int NoRow)? TryExact(SignalScale scale)
    {
        var known = new Dictionary<int, int>();
        var convert = new DecimalsToCounts(scale);
        int previous = ValueColumn.Missing, least = int.MaxValue;
        for (int c = 0; c < values.ChunkCount; c++)
        {
            int length = values.CopyChunk(c, chunk);
            foreach (int micro in chunk.AsSpan(0, length))
            {
                if (micro == ValueColumn.Missing || micro == previous) continue;
                previous = micro;
                if (known.TryGetValue(micro, out int _)) continue;
                int count = convert.CountOf(micro);
                if (count < width.Lowest || count > width.Highest || scale.Calibration.MicroOf(count) != micro) return null;
                // An exact scale has at most one value for each count: the memory is bounded by the width, and in 24 bits by this.
                if (known.Count < 1 << 17) known[micro] = count;
                least = Math.Min(least, count);
            }
        }

        return least >= width.LowestNumber ? (width.Lowest, width.Lowest + 1) : CodesBeside(convert);
    }

    private (int NoNumber, int NoRow)? CodesBeside(DecimalsToCounts convert)
    {
        var used = new UsedCounts(width);
        for (int c = 0; c < values.ChunkCount; c++)
        {
            int length = values.CopyChunk(c, chunk);
            foreach (int micro in chunk.AsSpan(0, length))
            {
                if (micro != ValueColumn.Missing) used.Add(convert.CountOf(micro));
            }
        }

        return used.Codes();
    }
}
