namespace Stillwatch.Oximetry.Streaming;

/// <summary>Pulse rate of a window from the intervals between its beats, or none: it is never made up.</summary>
internal static class PulseRate
{
    /// <summary>Fewer intervals give no rate.</summary>
    public const int LeastIntervals = 3;

    // Around the median: a missed beat doubles an interval, a beat that is none halves two; early beats and their pauses stay.
    private const double ShortestPart = 0.6;
    private const double LongestPart = 1.6;

    /// <summary>This part of all intervals must lie around the median.</summary>
    public const double LeastShare = 0.6;

    /// <summary>Mean distance from the median over the median beyond which intervals are no rhythm; irregular hearts reach about 0.2 (common practice, no source).</summary>
    public const double GreatestScatter = 0.25;

    /// <summary>Beats a minute: 60 over the mean of the intervals around the median; NaN: refused. Sorts the intervals.</summary>
    public static double Of(Span<double> intervalSeconds)
    {
        if (intervalSeconds.Length < LeastIntervals) return double.NaN;
        intervalSeconds.Sort();
        int half = intervalSeconds.Length / 2;
        double median = intervalSeconds.Length % 2 == 1 ? intervalSeconds[half] : (intervalSeconds[half - 1] + intervalSeconds[half]) / 2;
        double sum = 0, distance = 0;
        int kept = 0;
        foreach (double interval in intervalSeconds)
        {
            if (interval < ShortestPart * median || interval > LongestPart * median) continue;
            sum += interval;
            distance += Math.Abs(interval - median);
            kept++;
        }

        bool isRhythm = kept >= LeastIntervals && kept >= LeastShare * intervalSeconds.Length && distance <= GreatestScatter * median * kept;
        return isRhythm ? 60 * kept / sum : double.NaN;
    }
}
