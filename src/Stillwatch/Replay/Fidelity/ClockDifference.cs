using Stillwatch.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Replay.Fidelity;

/// <summary>A constant difference of two clocks that would explain the starts better than none: to be stated, never applied by itself.</summary>
/// <param name="Offset">To add to the times of the log.</param>
/// <param name="Matched">Pairs with it.</param>
/// <param name="MatchedWithout">Pairs without it.</param>
public sealed record ClockDifference(Duration Offset, int Matched, int MatchedWithout)
{
    /// <summary>An hour, as when summer time ends, and a little more.</summary>
    private const long FurthestSeconds = 3_700;

    // Fewer pairs than this, or a smaller gain, chance can give. Unit policy, no source.
    private const int PairsAtLeast = 3;
    private const double GainAtLeast = 1.2;
    private const int CandidatesTried = 5;

    /// <summary>Null where no constant difference of up to an hour is clearly better than none.</summary>
    internal static ClockDifference? Estimate(IReadOnlyList<StartsOfCondition> starts, long tolerance)
    {
        int now = starts.Sum(s => SignalMatcher.Match(s.Logged, s.Replayed, tolerance).Count);
        ClockDifference? best = null;
        foreach (long seconds in Candidates(starts, tolerance))
        {
            var difference = At(starts, seconds, tolerance, now);
            if (best is null || difference.Matched > best.Matched) best = difference;
        }

        return best is not null && best.Matched >= now + PairsAtLeast && best.Matched >= now * GainAtLeast ? best : null;
    }

    // The offsets around which most differences of any logged to any replayed start gather.
    private static List<long> Candidates(IReadOnlyList<StartsOfCondition> starts, long tolerance)
    {
        var counts = new int[2 * FurthestSeconds + 1];
        foreach (var (_, logged, replayed) in starts)
        {
            int from = 0;
            foreach (long time in logged)
            {
                while (from < replayed.Count && replayed[from] < time - FurthestSeconds * 1000) from++;
                for (int j = from; j < replayed.Count && replayed[j] <= time + FurthestSeconds * 1000; j++)
                    counts[(replayed[j] - time) / 1000 + FurthestSeconds]++;
            }
        }

        int reach = (int)Math.Clamp(tolerance / 1000, 1, 60);
        long window = 0;
        var gathered = new long[counts.Length];
        for (int i = 0; i < counts.Length; i++)
        {
            window += counts[i];
            if (i > 2 * reach) window -= counts[i - 2 * reach - 1];
            if (i >= reach) gathered[i - reach] = window;
        }

        var candidates = new List<long>();
        foreach (int i in Enumerable.Range(0, gathered.Length).Where(i => gathered[i] > 0).OrderByDescending(i => gathered[i]).ThenBy(i => Math.Abs(i - FurthestSeconds)))
        {
            long seconds = i - FurthestSeconds;
            if (candidates.TrueForAll(c => Math.Abs(c - seconds) > reach)) candidates.Add(seconds);
            if (candidates.Count == CandidatesTried) break;
        }

        return candidates;
    }

    // The middle difference of the pairs found there: whole seconds, as clocks are set.
    private static ClockDifference At(IReadOnlyList<StartsOfCondition> starts, long seconds, long tolerance, int now)
    {
        long[] differences = [.. Pairs(starts, seconds * 1000, tolerance).Order()];
        if (differences.Length == 0) return new ClockDifference(new Duration(seconds * 1000), 0, now);
        long middle = (long)Math.Round(differences[(differences.Length - 1) / 2] / 1000.0, MidpointRounding.AwayFromZero) * 1000;
        return new ClockDifference(new Duration(middle), Pairs(starts, middle, tolerance).Count(), now);
    }

    private static IEnumerable<long> Pairs(IReadOnlyList<StartsOfCondition> starts, long offset, long tolerance) => starts.SelectMany(s =>
    {
        List<long> shifted = [.. s.Logged.Select(t => t + offset)];
        return SignalMatcher.Match(shifted, s.Replayed, tolerance).Select(p => s.Replayed[p.Right] - s.Logged[p.Left]);
    });
}

/// <summary>The starts of one condition in log and replay, rising, in milliseconds.</summary>
internal readonly record struct StartsOfCondition(AlarmCondition Condition, IReadOnlyList<long> Logged, IReadOnlyList<long> Replayed);
