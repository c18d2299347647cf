using CsCheck;
using MathNet.Numerics;
using MathNet.Numerics.Statistics;
using Stillwatch.Dsp;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Dsp;

/// <summary>In-place medians and lines against MathNet's, which allocate.</summary>
public sealed class MediansAndLinesTests
{
    [Fact]
    public void A_median_is_the_librarys() =>
        Gen.Double[-1e6, 1e6].Array[1, 60].Sample(values => Assert.Equal(values.Median(), Medians.InPlace([.. values]), 1e-9), iter: Sampling.Cases(300));

    [Fact]
    public void A_running_median_is_the_median_of_what_stands_around() =>
        Gen.Select(Gen.Double[-10, 10].Array[0, 60], Gen.Int[0, 8]).Sample((values, reach) =>
        {
            var medians = new double[values.Length];
            Medians.Around(values, reach, medians);
            for (int i = 0; i < values.Length; i++)
                Assert.Equal(values.Where((_, k) => Math.Abs(k - i) <= reach).Median(), medians[i], 1e-12);
        }, iter: Sampling.Cases(300));

    [Fact]
    public void The_median_of_nothing_or_of_no_number_is_no_number()
    {
        Assert.True(double.IsNaN(Medians.InPlace([])));
        Assert.True(double.IsNaN(Medians.InPlace([1, double.NaN, 2])));
    }

    [Fact]
    public void What_is_left_beside_a_line_is_what_the_librarys_fit_leaves() =>
        Gen.Double[-100, 100].Array[2, 100].Sample(values =>
        {
            var x = Enumerable.Range(0, values.Length).Select(i => (double)i).ToArray();
            var (intercept, slope) = Fit.Line(x, values);
            double[] left = [.. values];
            StraightLine.Remove(left);
            for (int i = 0; i < values.Length; i++) Assert.Equal(values[i] - intercept - slope * i, left[i], 1e-9);
        }, iter: Sampling.Cases(300));

    [Fact]
    public void A_line_leaves_nothing()
    {
        double[] line = [.. Enumerable.Range(0, 50).Select(i => 7 - 0.3 * i)], one = [4], none = [];
        StraightLine.Remove(line);
        StraightLine.Remove(one);
        StraightLine.Remove(none);
        Assert.All(line, v => Assert.Equal(0, v, 1e-12));
        Assert.Equal(0, one[0]);
    }
}
