using CsCheck;
using MathNet.Numerics.Statistics;
using Stillwatch.Oximetry.Quality;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Oximetry.Quality;

/// <summary>Population skewness, the index that did best in Elgendi, Bioengineering 2016;3:21.</summary>
public sealed class SkewnessTests
{
    // samples | skewness of the population, arithmetic
    private const string Rows = """
        1 2 3 4 10    | 1.1384
        1 2 3 4 5     | 0
        -10 -4 -3 -2 -1 | -1.1384
        0 0 0 1       | 1.1547
        """;

    [Fact]
    public void Known_samples_have_the_known_skewness()
    {
        foreach (string row in Rows.Split('\n'))
        {
            string[] cells = row.Split('|', StringSplitOptions.TrimEntries);
            Assert.Equal(double.Parse(cells[1]), Skewness.Of([.. cells[0].Split(' ').Select(double.Parse)]), 0.00005);
        }
    }

    [Fact]
    public void It_agrees_with_a_library_of_statistics() =>
        Gen.Double[-100, 100].Array[3, 80].Where(a => a.Distinct().Count() > 2).Sample(samples =>
            Assert.Equal(samples.PopulationSkewness(), Skewness.Of(samples), 1e-6), iter: Sampling.Cases(300));

    [Fact]
    public void Size_and_level_do_not_change_it_and_turning_over_turns_its_sign() =>
        Gen.Select(Gen.Double[0, 1].Array[20], Gen.Double[0.1, 50], Gen.Double[-5, 5]).Sample((samples, size, level) =>
        {
            double plain = Skewness.Of(samples);
            Assert.Equal(plain, Skewness.Of([.. samples.Select(s => size * s + level)]), 1e-6);
            Assert.Equal(-plain, Skewness.Of([.. samples.Select(s => -s)]), 1e-9);
        }, iter: Sampling.Cases(200));

    [Fact]
    public void What_does_not_move_has_none()
    {
        Assert.Equal(double.NaN, Skewness.Of([2, 2, 2]));
        Assert.Equal(double.NaN, Skewness.Of([1, double.NaN, 2]));
    }
}
