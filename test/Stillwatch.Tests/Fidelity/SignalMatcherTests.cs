using CsCheck;
using Stillwatch.Replay.Fidelity;

namespace Stillwatch.Tests.Fidelity;

/// <summary>What must hold of any pairing of a replay with a log.</summary>
public sealed class SignalMatcherTests
{
    private static readonly Gen<long[]> Starts = Gen.Int[0, 60].Array[0, 6].Select(times => times.Order().Select(t => t * 500L).ToArray());
    private static readonly Gen<long[]> ManyStarts = Gen.Int[0, 4000].Array[0, 120].Select(times => times.Order().Select(t => t * 500L).ToArray());
    private static readonly Gen<long> Tolerance = Gen.OneOf(0L, 500L, 2000L, 5000L, 12_000L);

    [Fact]
    public void No_other_pairing_has_more_pairs_or_the_same_number_with_less_difference() =>
        Gen.Select(Starts, Starts, Tolerance).Sample((left, right, tolerance) =>
        {
            var found = SignalMatcher.Match(left, right, tolerance);
            Assert.Equal(BestOfAll(left, right, tolerance, 0, 0), (found.Count, -Difference(found, left, right)));
        });

    [Fact]
    public void Every_signal_is_used_once_at_most_in_order_and_within_the_tolerance() =>
        Gen.Select(ManyStarts, ManyStarts, Tolerance).Sample((left, right, tolerance) =>
        {
            var pairs = SignalMatcher.Match(left, right, tolerance);
            Assert.All(pairs, p => Assert.InRange(Math.Abs(left[p.Left] - right[p.Right]), 0, tolerance));
            Assert.All(pairs.Zip(pairs.Skip(1)), two => Assert.True(two.First.Left < two.Second.Left && two.First.Right < two.Second.Right));
        });

    [Fact]
    public void Exchanging_replay_and_log_changes_neither_the_number_of_pairs_nor_their_differences() =>
        Gen.Select(ManyStarts, ManyStarts, Tolerance).Sample((left, right, tolerance) =>
        {
            var one = SignalMatcher.Match(left, right, tolerance);
            var other = SignalMatcher.Match(right, left, tolerance);
            Assert.Equal((one.Count, Difference(one, left, right)), (other.Count, Difference(other, right, left)));
        });

    [Fact]
    public void Shifting_both_by_the_same_time_changes_nothing() =>
        Gen.Select(ManyStarts, ManyStarts, Tolerance, Gen.Long[-10_000_000, 10_000_000]).Sample((left, right, tolerance, by) =>
            Assert.Equal(SignalMatcher.Match(left, right, tolerance), SignalMatcher.Match([.. left.Select(t => t + by)], [.. right.Select(t => t + by)], tolerance)));

    [Fact]
    public void A_list_agrees_with_itself_entirely() =>
        Gen.Select(ManyStarts, Tolerance).Sample((starts, tolerance) =>
            Assert.Equal(Enumerable.Range(0, starts.Length).Select(i => (i, i)), SignalMatcher.Match(starts, starts, tolerance)));

    private static long Difference(IReadOnlyList<(int Left, int Right)> pairs, long[] left, long[] right) => pairs.Sum(p => Math.Abs(left[p.Left] - right[p.Right]));

    // Every pairing there is, crossing ones too: for each of the left, nobody or anybody not yet taken.
    private static (int Pairs, long MinusDifference) BestOfAll(long[] left, long[] right, long tolerance, int at, int taken)
    {
        if (at == left.Length) return (0, 0);
        var best = BestOfAll(left, right, tolerance, at + 1, taken);
        for (int j = 0; j < right.Length; j++)
        {
            long difference = Math.Abs(left[at] - right[j]);
            if ((taken & (1 << j)) != 0 || difference > tolerance) continue;
            var (pairs, minus) = BestOfAll(left, right, tolerance, at + 1, taken | (1 << j));
            if ((pairs + 1, minus - difference).CompareTo(best) > 0) best = (pairs + 1, minus - difference);
        }

        return best;
    }
}
