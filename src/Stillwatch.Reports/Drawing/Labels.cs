namespace Stillwatch.Reports.Drawing;

/// <summary>Keeps labels off each other.</summary>
internal static class Labels
{
    /// <summary>
    /// Positions as near as possible to those wanted, in the same order, at least <paramref name="gap"/> apart and within
    /// [low, high] where there is room for that.
    /// </summary>
    public static double[] Spread(IReadOnlyList<double> wanted, double gap, double low, double high)
    {
        int[] order = [.. Enumerable.Range(0, wanted.Count).OrderBy(i => wanted[i])];
        var placed = new double[wanted.Count];
        double next = low;
        foreach (int i in order)
        {
            placed[i] = Math.Max(next, Math.Clamp(wanted[i], low, Math.Max(low, high)));
            next = placed[i] + gap;
        }

        double last = high;
        foreach (int i in order.Reverse())
        {
            placed[i] = Math.Min(placed[i], last);
            last = placed[i] - gap;
        }

        return placed;
    }
}
