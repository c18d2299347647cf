using CsCheck;
using Stillwatch.Accuracy.Beats;

namespace Stillwatch.Accuracy.Tests;

public class MatchingTests
{
    // heart beats | pulses | matched | counted heart beats: a transit of 0.2 s, a tolerance of 0.15 s, a recording of 10 s
    [Theory]
    [InlineData("1 2 3 4", "1.2 2.2 3.2 4.2", 4, 4)]
    [InlineData("1 2 3 4", "1.2 2.2 4.2", 3, 4)]
    [InlineData("1 2 3 4", "1.2 2.2 2.25 3.2 4.2", 4, 4)]
    [InlineData("1 2 3 4", "1.2 2.2 3.5 4.2 5.2", 3, 4)]
    [InlineData("1 2 3 9.9", "1.2 2.2 3.2", 3, 3)]
    public void Each_pulse_answers_one_heart_beat(string beats, string pulses, int matched, int counted)
    {
        var matching = BeatMatching.Of(Times(beats), Times(pulses), 0.15, 0, 10);

        Assert.Equal(0.2, matching.TransitSeconds, 9);
        Assert.Equal((matched, counted), (matching.MatchedHeartBeats, matching.HeartBeats));
    }

    [Fact]
    public void Pairs_are_as_many_as_any_pairing_can_have_where_beats_lie_apart() =>
        (from left in Gen.Double[0.31, 1].List[1, 30]
         from shift in Gen.Double[-0.2, 0.2].List[30]
         from drop in Gen.Bool.List[30]
         select (left, shift, drop)).Sample(c =>
        {
            var beats = Sums(c.left);
            var pulses = beats.Select((b, i) => b + c.shift[i]).Where((_, i) => !c.drop[i]).ToList();
            pulses.Sort();
            var pairs = BeatMatching.Pairs(beats, pulses, 0.15);
            // The slow twin: the longest order-keeping pairing.
            var best = new int[beats.Count + 1, pulses.Count + 1];
            for (int i = 1; i <= beats.Count; i++)
            {
                for (int j = 1; j <= pulses.Count; j++)
                {
                    best[i, j] = Math.Max(best[i - 1, j], best[i, j - 1]);
                    if (Math.Abs(beats[i - 1] - pulses[j - 1]) <= 0.15) best[i, j] = Math.Max(best[i, j], best[i - 1, j - 1] + 1);
                }
            }

            Assert.Equal(pairs.Count, pairs.Select(p => p.Left).Distinct().Count());
            Assert.Equal(pairs.Count, pairs.Select(p => p.Right).Distinct().Count());
            Assert.All(pairs, p => Assert.InRange(Math.Abs(beats[p.Left] - pulses[p.Right]), 0, 0.15));
            // Heart beats lie more than twice the tolerance apart: no pulse can serve two, and nearest first loses no pair.
            Assert.Equal(best[beats.Count, pulses.Count], pairs.Count);
        });

    [Fact]
    public void A_rate_is_counted_from_event_to_event()
    {
        double[] everySecond = [.. Enumerable.Range(0, 30).Select(i => 0.4 + i)];
        Assert.Equal(60, RateWindows.PerMinute(everySecond, 0, 10), 9);
        Assert.Equal(double.NaN, RateWindows.PerMinute([1, 2], 0, 10));
        Assert.Equal(75, RateWindows.PerMinuteOfIntervals([.. Enumerable.Repeat(0.8, 40)], 10, 20), 9);
    }

    [Fact]
    public void A_refused_window_is_asked_for_but_not_kept_and_one_without_reference_is_neither()
    {
        var errors = new WindowErrors();
        errors.Add(61, 60);
        errors.Add(58, 60);
        errors.Add(double.NaN, 60);
        errors.Add(60, double.NaN);

        Assert.Equal((3, 2, 1.5, -0.5), (errors.Asked, errors.Kept, errors.MeanAbsolute, errors.Bias));
        Assert.Equal(66.67, errors.ShareKeptPercent, 2);
    }

    [Fact]
    public void Arms_is_the_root_of_the_mean_square()
    {
        var agreement = new Agreement();
        foreach (double d in new[] { 1.0, -2, 2, -1 }) agreement.Add(90 + d, 90);
        Assert.Equal(Math.Sqrt(10 / 4.0), agreement.Arms, 12);
        Assert.Equal(0, agreement.Bias, 12);
    }

    private static double[] Times(string text) => [.. text.Split(' ').Select(t => double.Parse(t, System.Globalization.CultureInfo.InvariantCulture))];

    private static List<double> Sums(IReadOnlyList<double> steps)
    {
        var sums = new List<double>();
        foreach (double step in steps) sums.Add(sums.LastOrDefault() + step);
        return sums;
    }
}
