namespace Stillwatch.Accuracy.Beats;

/// <summary>Rates over windows side by side, and how far two of them lie apart.</summary>
internal static class RateWindows
{
    /// <summary>Events a minute within [from, to): from the first to the last of them; NaN with fewer than three.</summary>
    public static double PerMinute(IReadOnlyList<double> events, double from, double to)
    {
        var inside = events.Where(e => e >= from && e < to).ToList();
        return inside.Count < 3 ? double.NaN : 60 * (inside.Count - 1) / (inside[^1] - inside[0]);
    }

    /// <summary>A rate from intervals (seconds) that follow each other from 0 on: those that end in [from, to); NaN with fewer than two.</summary>
    public static double PerMinuteOfIntervals(IReadOnlyList<double> intervals, double from, double to)
    {
        double end = 0, sum = 0;
        int count = 0;
        foreach (double interval in intervals)
        {
            end += interval;
            if (end < from || end >= to) continue;
            sum += interval;
            count++;
        }

        return count < 2 ? double.NaN : 60 * count / sum;
    }
}

/// <summary>Differences of windows: those with a reference are asked for, those with both are kept.</summary>
internal sealed class WindowErrors
{
    private readonly List<double> errors = [];
    private int asked;

    public int Asked => asked;

    public int Kept => errors.Count;

    public double MeanAbsolute => errors.Count == 0 ? double.NaN : errors.Average(Math.Abs);

    public double Bias => errors.Count == 0 ? double.NaN : errors.Average();

    public double ShareKeptPercent => asked == 0 ? double.NaN : 100.0 * errors.Count / asked;

    /// <param name="measured">NaN: refused.</param>
    /// <param name="reference">NaN: the window is not asked for.</param>
    public void Add(double measured, double reference)
    {
        if (double.IsNaN(reference)) return;
        asked++;
        if (!double.IsNaN(measured)) errors.Add(measured - reference);
    }

    public void Add(WindowErrors others)
    {
        asked += others.asked;
        errors.AddRange(others.errors);
    }
}
