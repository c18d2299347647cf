using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Oxygenation;

/// <summary>
/// How far the pulse rate rose with a desaturation event: its highest value from the start to 30 s after the end, minus its
/// time-weighted mean over the 120 s before the start. Not known where less than 60 s of those 120 s, or nothing of the event,
/// has a valid pulse rate. Our own definition, no source.
/// </summary>
internal static class PulseRateRise
{
    private static readonly Duration After = Duration.FromSeconds(30);

    /// <returns>Beats per minute; null where not known.</returns>
    public static double? Of(DesaturationEvent desaturation, ConditionedSeries pulse)
    {
        var from = desaturation.Start - DesaturationDefinition.BaselineWindow;
        var to = desaturation.End + After;
        long valid = 0;
        Int128 sum = 0;
        int? highest = null;
        for (int i = FirstEndingAfter(pulse.Pieces, from); i < pulse.Pieces.Count && pulse.Pieces[i].Start < to; i++)
        {
            var piece = pulse.Pieces[i];
            long before = Math.Min(piece.End.Milliseconds, desaturation.Start.Milliseconds) - Math.Max(piece.Start.Milliseconds, from.Milliseconds);
            if (before > 0)
            {
                valid += before;
                sum += (Int128)before * piece.Micro;
            }

            if (piece.End > desaturation.Start && (highest is not { } h || piece.Micro > h)) highest = piece.Micro;
        }

        if (highest is not { } top || valid < DesaturationDefinition.HistoryMilliseconds) return null;
        return (top - (double)sum / valid) / FixedPoint.One;
    }

    private static int FirstEndingAfter(IReadOnlyList<ConditionedSeries.Piece> pieces, SampleTime time)
    {
        int low = 0, high = pieces.Count;
        while (low < high)
        {
            int middle = low + (high - low) / 2;
            if (pieces[middle].End <= time) low = middle + 1;
            else high = middle;
        }

        return low;
    }
}
