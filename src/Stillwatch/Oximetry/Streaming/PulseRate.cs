namespace Stillwatch.Oximetry.Streaming;

/// <summary>Pulse rate of a stretch from the intervals between its beats, or none.</summary>
internal sealed class PulseRate
{
    private const int LeastIntervals = 3;

    private double[] sorted = new double[64];

    /// <summary>Beats a minute; NaN where there are too few intervals, or where they are too unlike to be believed.</summary>
    public double Of(ReadOnlySpan<double> intervalSeconds)
    {
        if (intervalSeconds.Length < LeastIntervals) return double.NaN;
        if (sorted.Length < intervalSeconds.Length) sorted = new double[2 * intervalSeconds.Length];
        var inOrder = sorted.AsSpan(0, intervalSeconds.Length);
        intervalSeconds.CopyTo(inOrder);
        inOrder.Sort();
        double median = inOrder.Length % 2 == 1 ? inOrder[inOrder.Length / 2] : (inOrder[inOrder.Length / 2 - 1] + inOrder[inOrder.Length / 2]) / 2;
        double sum = 0;
        int kept = 0;
        foreach (double interval in inOrder)
        {
            if (interval < 0.6 * median || interval > 1.6 * median) continue;
            sum += interval;
            kept++;
        }

        return kept >= LeastIntervals && kept >= 0.6 * inOrder.Length ? 60 * kept / sum : double.NaN;
    }
}
