namespace Stillwatch.Replay.Fidelity;

/// <summary>
/// Pairs the starts of two lists one to one: as many pairs as the tolerance allows, and among those the least sum of differences.
/// </summary>
/// <remarks>
/// For points on a line and a cost that grows with distance a best pairing exists in which no two pairs cross, so one pass over
/// both lists in time order finds it. Only pairs within the tolerance are looked at: memory and time grow with the number of
/// these, not with the product of the lists.
/// </remarks>
public static class SignalMatcher
{
    // One pair more outweighs any saving in differences: 2^40 ms are 34 years.
    private const long Pair = 1L << 40;

    private enum Step : byte
    {
        LeaveLeft,
        LeaveRight,
        Match,
    }

    /// <param name="left">Rising times in milliseconds; alike ones may repeat.</param>
    /// <param name="right">Rising times in milliseconds; alike ones may repeat.</param>
    /// <param name="tolerance">The greatest difference of a pair, itself included.</param>
    /// <returns>Indices of the pairs, in time order.</returns>
    public static IReadOnlyList<(int Left, int Right)> Match(IReadOnlyList<long> left, IReadOnlyList<long> right, long tolerance)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(tolerance);
        var bands = new Band[left.Count];
        long[] above = [0];
        int aboveFrom = 0, from = 0, to = 0;
        for (int i = 0; i < left.Count; i++)
        {
            // "j of right" means its first j starts; a band holds the best for each j that can still matter.
            while (from < right.Count && right[from] < left[i] - tolerance) from++;
            to = Math.Max(to, from);
            while (to < right.Count && right[to] <= left[i] + tolerance) to++;
            var best = new long[to - from + 1];
            var steps = new Step[best.Length];
            for (int j = from; j <= to; j++)
            {
                long leave = above[Math.Min(j - aboveFrom, above.Length - 1)];
                (best[j - from], steps[j - from]) = (leave, Step.LeaveLeft);
                if (j == from) continue;
                if (best[j - from - 1] > best[j - from]) (best[j - from], steps[j - from]) = (best[j - from - 1], Step.LeaveRight);
                long match = above[Math.Min(j - 1 - aboveFrom, above.Length - 1)] + Pair - Math.Abs(left[i] - right[j - 1]);
                if (match > best[j - from]) (best[j - from], steps[j - from]) = (match, Step.Match);
            }

            bands[i] = new Band(from, steps);
            (above, aboveFrom) = (best, from);
        }

        return Pairs(bands, right.Count);
    }

    private static List<(int Left, int Right)> Pairs(Band[] bands, int rightCount)
    {
        var pairs = new List<(int, int)>();
        int j = rightCount;
        for (int i = bands.Length - 1; i >= 0; i--)
        {
            var (from, steps) = bands[i];
            j = Math.Min(j, from + steps.Length - 1);
            while (steps[j - from] == Step.LeaveRight) j--;
            if (steps[j - from] != Step.Match) continue;
            pairs.Add((i, j - 1));
            j--;
        }

        pairs.Reverse();
        return pairs;
    }

    private readonly record struct Band(int From, Step[] Steps);
}
