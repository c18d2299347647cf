using System.Numerics;

namespace Stillwatch.Oximetry.Beats;

/// <summary>
/// Local extremes at many distances at once (Bishop &amp; Ercole, Acta Neurochir Suppl 2018;126:189): a point is a peak at distance k if it is above both
/// points that far away; the distance at which most points are peaks tells the rhythm, and what is a peak at all distances up to it is a peak.
/// Troughs likewise. Points nearer to an end than k are neither at k.
/// </summary>
/// <param name="points">The most points of a window.</param>
/// <param name="distances">The greatest distance.</param>
internal sealed class Scalogram(int points, int distances)
{
    private readonly double[] peakDepth = new double[points]; // distances from 1 on at which the point is a peak
    private readonly double[] troughDepth = new double[points];
    private double peakReach, troughReach;

    public bool IsPeak(int point) => peakDepth[point] >= peakReach;

    public bool IsTrough(int point) => troughDepth[point] >= troughReach;

    public void Run(ReadOnlySpan<double> window)
    {
        int length = window.Length, most = Math.Min(distances, (length - 1) / 2);
        Array.Clear(peakDepth);
        Array.Clear(troughDepth);
        peakReach = troughReach = double.PositiveInfinity;
        double mostPeaks = 0, mostTroughs = 0;
        for (int k = 1; k <= most; k++)
        {
            var (peaks, troughs) = AtDistance(window, k);
            if (peaks > mostPeaks)
            {
                mostPeaks = peaks;
                peakReach = k;
            }

            if (troughs > mostTroughs)
            {
                mostTroughs = troughs;
                troughReach = k;
            }
        }
    }

    private (double Peaks, double Troughs) AtDistance(ReadOnlySpan<double> window, int k)
    {
        int width = window.Length - 2 * k;
        var here = window.Slice(k, width);
        var left = window[..width];
        var right = window.Slice(2 * k, width);
        var peakDepths = peakDepth.AsSpan(k, width);
        var troughDepths = troughDepth.AsSpan(k, width);
        var (one, all) = (Vector<double>.One, new Vector<double>(k - 1));
        Vector<double> peakSums = default, troughSums = default;
        int i = 0;
        for (; i <= width - Vector<double>.Count; i += Vector<double>.Count)
        {
            Vector<double> value = new(here[i..]), before = new(left[i..]), after = new(right[i..]);
            var isPeak = Vector.BitwiseAnd(Vector.GreaterThan(value, before), Vector.GreaterThan(value, after));
            var isTrough = Vector.BitwiseAnd(Vector.LessThan(value, before), Vector.LessThan(value, after));
            peakSums += Vector.ConditionalSelect(isPeak, one, default);
            troughSums += Vector.ConditionalSelect(isTrough, one, default);
            Vector<double> peaksSoFar = new(peakDepths[i..]), troughsSoFar = new(troughDepths[i..]);
            isPeak = Vector.BitwiseAnd(isPeak, Vector.Equals(peaksSoFar, all));
            isTrough = Vector.BitwiseAnd(isTrough, Vector.Equals(troughsSoFar, all));
            (peaksSoFar + Vector.ConditionalSelect(isPeak, one, default)).CopyTo(peakDepths[i..]);
            (troughsSoFar + Vector.ConditionalSelect(isTrough, one, default)).CopyTo(troughDepths[i..]);
        }

        double peaks = Vector.Sum(peakSums), troughs = Vector.Sum(troughSums);
        for (; i < width; i++)
        {
            if (here[i] > left[i] && here[i] > right[i])
            {
                peaks++;
                if (peakDepths[i] >= k - 1) peakDepths[i]++;
            }
            else if (here[i] < left[i] && here[i] < right[i])
            {
                troughs++;
                if (troughDepths[i] >= k - 1) troughDepths[i]++;
            }
        }

        return (peaks, troughs);
    }
}
