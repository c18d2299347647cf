using System.Diagnostics;

namespace Stillwatch.Bench;

/// <summary>Medians of runs that take turns.</summary>
internal static class Stopwatches
{
    /// <summary>Seconds for one run: the median of as many as fill 20 ms, since on a shared machine an average takes in the neighbours' turns.</summary>
    public static double Seconds(Action run)
    {
        var times = new List<double>();
        long first = Stopwatch.GetTimestamp();
        do
        {
            long start = Stopwatch.GetTimestamp();
            run();
            times.Add(Stopwatch.GetElapsedTime(start).TotalSeconds);
        }
        while (Stopwatch.GetElapsedTime(first).TotalMilliseconds < 20);
        return Median(times);
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
