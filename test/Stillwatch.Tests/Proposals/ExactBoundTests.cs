using CsCheck;
using Stillwatch.Tuning.Proposals;
using Xunit;

namespace Stillwatch.Tests.Proposals;

public class ExactBoundTests
{
    /// <summary>Made with scipy 1.10.1 (Debian 12): <c>beta.ppf(0.95, k + 1, n - k)</c>, the Clopper–Pearson bound by another road.</summary>
    private const string Table =
        """
        # k of n | upper bound
        0 of 1 | 0.950000000000
        0 of 3 | 0.631596850136
        0 of 10 | 0.258865550893
        0 of 24 | 0.117346156155
        0 of 58 | 0.050339338330
        0 of 59 | 0.049507609888
        0 of 100 | 0.029513049607
        0 of 300 | 0.009936081944
        1 of 10 | 0.394163302437
        1 of 24 | 0.182892469756
        1 of 100 | 0.046559811454
        2 of 50 | 0.120614155422
        5 of 20 | 0.455582404002
        10 of 100 | 0.163717623276
        9 of 10 | 0.994883803108
        7 of 1000 | 0.013107715417
        50 of 5000 | 0.012640571639
        """;

    [Fact]
    public void The_bound_agrees_with_the_quantile_of_the_beta_distribution_to_ten_digits()
    {
        foreach (string line in Table.Split('\n').Where(l => !l.StartsWith('#')))
        {
            string[] cells = line.Split([" of ", " | "], StringSplitOptions.TrimEntries);
            double expected = double.Parse(cells[2]);
            Assert.True(Math.Abs(ExactBound.Upper(int.Parse(cells[0]), int.Parse(cells[1])) - expected) < 1e-10, line);
        }
    }

    [Theory]
    [InlineData(30)]
    [InlineData(100)]
    [InlineData(1000)]
    public void Zero_of_n_lies_a_little_under_three_over_n(int n)
    {
        // The "rule of three" of Hanley and Lippman-Hand, JAMA 1983;249:1743, from memory: a plausibility check, not the evidence.
        double bound = ExactBound.Upper(0, n);
        Assert.InRange(bound, 2.8 / n, 3.0 / n);
    }

    [Fact]
    public void Nothing_seen_and_everything_seen_both_allow_everything()
    {
        Assert.Equal(1, ExactBound.Upper(0, 0));
        Assert.Equal(1, ExactBound.Upper(4, 4));
    }

    [Fact]
    public void More_than_there_were_or_fewer_than_none_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => ExactBound.Upper(5, 4));
        Assert.Throws<ArgumentOutOfRangeException>(() => ExactBound.Upper(-1, 4));
    }

    [Fact]
    public void At_the_bound_seeing_so_few_has_just_the_chance_that_the_confidence_leaves() =>
        Gen.Select(Gen.Int[1, 400], Gen.Double[0, 0.999], Gen.Double[0.5, 0.99]).Sample((n, share, confidence) =>
        {
            int k = (int)(share * n);
            double p = ExactBound.Upper(k, n, confidence);
            double chance = 0, term = Math.Pow(1 - p, n); // the plain sum from zero up, as a twin
            for (int i = 0; i <= k; i++)
            {
                chance += term;
                term *= (n - i) / (i + 1.0) * (p / (1 - p));
            }

            // Where (1−p)^n is too small for a double the twin has nothing to say.
            Assert.True(Math.Pow(1 - p, n) < 1e-290 || Math.Abs(chance - (1 - confidence)) < 1e-8, $"{k} of {n} at {confidence}: bound {p}, chance {chance}");
        }, iter: 2000, threads: 1);

    [Fact]
    public void The_bound_rises_with_what_was_missed_and_falls_with_what_was_seen() =>
        Gen.Select(Gen.Int[1, 300], Gen.Int[0, 299]).Where((n, k) => k < n).Sample((n, k) =>
        {
            double bound = ExactBound.Upper(k, n);
            Assert.True(bound > k / (double)n);
            Assert.True(ExactBound.Upper(k + 1, n) > bound);
            Assert.True(ExactBound.Upper(k, n + 1) < bound);
        }, iter: 1000, threads: 1);

    [Theory]
    [InlineData(0.05, 59)]
    [InlineData(0.30, 9)]
    public void How_many_are_needed_for_a_guard_rail_is_the_smallest_number_that_keeps_it(double rail, int needed)
    {
        Assert.Equal(needed, Judgement.EventsNeeded(rail));
        Assert.True(ExactBound.Upper(0, needed) <= rail);
        Assert.True(ExactBound.Upper(0, needed - 1) > rail);
    }
}
