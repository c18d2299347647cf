using System.Diagnostics;

namespace Stillwatch.Bench;

/// <summary>Medians of runs that take turns.</summary>
internal static class Stopwatches
{
    /// <summary>Seconds for one run, averaged over as many as fill about 20 ms.</summary>
    public static double Seconds(Action run)
    {
        long start = Stopwatch.GetTimestamp();
        int runs = 0;
        do
        {
            run();
            runs++;
        }
        while (Stopwatch.GetElapsedTime(start).TotalMilliseconds < 20);
        return Stopwatch.GetElapsedTime(start).TotalSeconds / runs;
    }

    public static double Median(IEnumerable<double> seconds)
    {
        double[] sorted = [.. seconds.Order()];
        return sorted.Length % 2 == 1 ? sorted[sorted.Length / 2] : (sorted[sorted.Length / 2 - 1] + sorted[sorted.Length / 2]) / 2;
    }

    public static string Text(double seconds) => seconds switch
    {
        >= 1 => $"{seconds:0.00} s",
        >= 1e-3 => $"{seconds * 1e3:0.00} ms",
        _ => $"{seconds * 1e6:0.0} µs",
    };
}
