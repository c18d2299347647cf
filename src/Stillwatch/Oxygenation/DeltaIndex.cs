using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Oxygenation;

/// <summary>
/// The Δ index: the mean absolute difference of successive 12-s means of SpO2, in percentage points (Pépin, Chest 1991;99:817;
/// Lévy, Chest 1996;109:395; definition from memory).
/// </summary>
/// <remarks>
/// Windows of 12 s are laid from the first row on; a mean is time-weighted and needs half of its window valid (our choice). A
/// difference needs two windows that touch. What is left at the end, less than 12 s, is not used.
/// </remarks>
public static class DeltaIndex
{
    private const long WindowMilliseconds = 12_000;

    /// <returns>Null where no two windows that touch have means.</returns>
    public static double? Of(ConditionedSeries series)
    {
        double differences = 0;
        long count = 0;
        double? previous = null;
        long previousWindow = -2, window = -1, valid = 0;
        Int128 sum = 0;
        long origin = series.Start.Milliseconds;
        foreach (var piece in series.Pieces)
        {
            for (long from = piece.Start.Milliseconds; from < piece.End.Milliseconds;)
            {
                long here = (from - origin) / WindowMilliseconds;
                if (here != window) Close(here);
                long to = Math.Min(piece.End.Milliseconds, origin + (here + 1) * WindowMilliseconds);
                valid += to - from;
                sum += (Int128)(to - from) * piece.Micro;
                from = to;
            }
        }

        if (series.End.Milliseconds - origin >= (window + 1) * WindowMilliseconds) Close(-1);
        return count > 0 ? differences / count / FixedPoint.One : null;

        void Close(long next)
        {
            if (2 * valid >= WindowMilliseconds)
            {
                double mean = (double)sum / valid;
                if (previous is { } p && previousWindow == window - 1)
                {
                    differences += Math.Abs(mean - p);
                    count++;
                }

                previous = mean;
                previousWindow = window;
            }

            window = next;
            valid = 0;
            sum = 0;
        }
    }
}
