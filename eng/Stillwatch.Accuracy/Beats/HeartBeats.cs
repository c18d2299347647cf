namespace Stillwatch.Accuracy.Beats;

/// <summary>
/// R peaks of an electrocardiogram, found without any code of the product: what its pulses are held against. The steps are those of Pan &amp; Tompkins,
/// IEEE Trans Biomed Eng 32:230 (1985): band-pass, slope, square, moving sum, adaptive threshold; constants from memory, and looking both ways in time,
/// which a recording allows.
/// </summary>
internal static class HeartBeats
{
    private const double SmoothSeconds = 0.03;
    private const double BaselineSeconds = 0.2;
    private const double EnergySeconds = 0.12;
    private const double RefractorySeconds = 0.25;
    private const double NeighbourhoodSeconds = 6;
    private const double ThresholdShare = 0.2;
    private const double SearchSeconds = 0.08;

    /// <summary>Times of R peaks in seconds from the first sample, finer than a sample.</summary>
    /// <param name="lead">Any unit, either sign of R; without gaps.</param>
    /// <param name="rateHz">Samples a second, 100 or more.</param>
    public static double[] Find(ReadOnlySpan<double> lead, double rateHz)
    {
        double[] steep = BandPassed(lead, rateHz);
        double[] energy = Energy(steep, rateHz);
        var candidates = Maxima(energy, (int)(RefractorySeconds * rateHz));
        int near = (int)(NeighbourhoodSeconds * rateHz), search = (int)(SearchSeconds * rateHz);
        var beats = new List<double>();
        foreach (int at in candidates)
        {
            // The usual height of the neighbours' energy: a T wave or a step of the baseline stays well below it.
            var heights = candidates.Where(c => Math.Abs(c - at) <= near).Select(c => energy[c]).Order().ToList();
            if (energy[at] < ThresholdShare * heights[heights.Count * 3 / 4]) continue;
            beats.Add(PeakNear(steep, at, search) / rateHz);
        }

        return [.. beats];
    }

    private static double[] BandPassed(ReadOnlySpan<double> lead, double rateHz)
    {
        double[] smooth = Box(Box([.. lead], (int)(SmoothSeconds * rateHz) / 2), (int)(SmoothSeconds * rateHz) / 2);
        double[] baseline = Box(smooth, (int)(BaselineSeconds * rateHz) / 2);
        return [.. smooth.Zip(baseline, (s, b) => s - b)];
    }

    private static double[] Energy(double[] values, double rateHz)
    {
        var squared = new double[values.Length];
        for (int i = 1; i + 1 < values.Length; i++)
        {
            double slope = values[i + 1] - values[i - 1];
            squared[i] = slope * slope;
        }

        return Box(squared, (int)(EnergySeconds * rateHz) / 2);
    }

    /// <summary>Mean over 2 · half + 1 samples, fewer at the ends.</summary>
    private static double[] Box(double[] values, int half)
    {
        var sums = new double[values.Length + 1];
        for (int i = 0; i < values.Length; i++) sums[i + 1] = sums[i] + values[i];
        var means = new double[values.Length];
        for (int i = 0; i < values.Length; i++)
        {
            int from = Math.Max(0, i - half), to = Math.Min(values.Length, i + half + 1);
            means[i] = (sums[to] - sums[from]) / (to - from);
        }

        return means;
    }

    /// <summary>Samples that are the greatest within a distance on either side; of equal ones the first.</summary>
    private static List<int> Maxima(double[] values, int distance)
    {
        var found = new List<int>();
        for (int i = 0; i < values.Length; i++)
        {
            bool greatest = true;
            for (int j = Math.Max(0, i - distance); j < Math.Min(values.Length, i + distance + 1) && greatest; j++)
                greatest = values[j] < values[i] || (j >= i && values[j] == values[i]);
            if (greatest && values[i] > 0) found.Add(i);
        }

        return found;
    }

    private static double PeakNear(double[] values, int at, int search)
    {
        int best = at;
        for (int j = Math.Max(1, at - search); j < Math.Min(values.Length - 1, at + search + 1); j++)
        {
            if (Math.Abs(values[j]) > Math.Abs(values[best])) best = j;
        }

        if (best == 0 || best == values.Length - 1) return best;
        double left = Math.Abs(values[best - 1]), middle = Math.Abs(values[best]), right = Math.Abs(values[best + 1]);
        double bend = left - 2 * middle + right;
        return bend < 0 ? best + 0.5 * (left - right) / bend : best;
    }
}
