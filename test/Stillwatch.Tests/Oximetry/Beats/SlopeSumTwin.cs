using Stillwatch.Oximetry.Beats;

namespace Stillwatch.Tests.Oximetry.Beats;

/// <summary>The slope-sum detector written down slowly: the whole segment at once, every sum by a loop of its own.</summary>
internal static class SlopeSumTwin
{
    public static PulseMark[] Find(double[] x, double rateHz)
    {
        int window = (int)Math.Round(0.128 * rateHz), search = (int)Math.Round(0.15 * rateHz), longest = (int)rateHz;
        double[] sums = [.. x.Select((_, i) => Enumerable.Range(i - window + 1, window).Sum(j => j < 1 ? 0 : Math.Max(0, x[j] - x[j - 1])))];
        int start = 0, learn = (int)(2 * rateHz);
        while (start < x.Length && sums.Skip(start).Take(learn).Max() <= 0) start += learn;
        if (start >= x.Length) return [];
        double level = sums.Skip(start).Take(learn).Max(), least = 1e-9 * level, faded = level;
        var found = new List<PulseMark>();
        var large = new List<double>();
        int lastCrossing = int.MinValue / 2, lastPeak = 0;
        for (int i = Math.Max(start, 0); i < x.Length; i++)
        {
            if (i - lastCrossing > 2.5 * rateHz) faded = Math.Max(least, faded * Math.Pow(0.5, 1 / rateHz));
            bool crosses = i > lastPeak && sums[i] >= 0.5 * faded && sums[i - 1] < 0.5 * faded && i - lastCrossing >= 0.2 * rateHz;
            if (!crosses) continue;
            int peak = Follow(x, i, 1, search, longest, x.Length - 1, higher: true);
            int trough = Follow(x, i, -1, search, longest, lastPeak == 0 ? 0 : lastPeak + 1, higher: false);
            double hump = sums[i];
            for (int j = i + 1, best = i; j <= peak; j++)
            {
                if (x[j] <= x[best]) continue;
                best = j; // humps are read where a new height is reached
                hump = Math.Max(hump, sums[j]);
            }

            if (peak > trough) found.Add(new PulseMark(trough, peak));
            if (hump < 0.5 * level) level = faded;
            if (hump > 2 * level) large.Add(hump);
            else large.Clear();
            level = large.Count == 6 ? large.Max() : level + 0.25 * (Math.Min(hump, 2 * level) - level);
            if (large.Count == 6) large.Clear();
            faded = level;
            lastCrossing = i;
            lastPeak = peak;
        }

        return [.. found];
    }

    /// <summary>The extreme within the search, and further as long as the slope goes on.</summary>
    private static int Follow(double[] x, int from, int direction, int search, int longest, int last, bool higher)
    {
        int best = from;
        for (int i = from + direction; direction > 0 ? i <= last : i >= last; i += direction)
        {
            bool better = higher ? x[i] > x[best] : x[i] < x[best];
            int far = Math.Abs(i - from);
            if (far > search && !(better && i == best + direction && far <= longest)) break;
            if (better) best = i;
        }

        return best;
    }
}
