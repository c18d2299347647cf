using CsCheck;
using Stillwatch.Oxygenation.Agreement;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Physiology;

/// <summary>
/// Limits of agreement with repeated measures. Data and results: Bland and Altman, J Biopharm Stat 2007;17:571, beside this file;
/// the digits after the published ones are arithmetic.
/// </summary>
public sealed class RepeatedMeasuresTests
{
    private static readonly IReadOnlyList<SubjectReadings> Published =
    [
        .. from line in File.ReadLines(Path.Combine(RuleTables.RepositoryRoot, "test", "Stillwatch.Tests", "Physiology", "bland-altman-2007.txt"))
           where line.Length > 0 && line[0] != '#'
           let pairs = line.Split('|')[1].Split(';').Select(p => p.Split(',').Select(double.Parse).ToArray()).ToList()
           select new SubjectReadings([.. pairs.Select(p => p[0])], [.. pairs.Select(p => p[1])]),
    ];

    [Fact]
    public void The_published_pairs_give_the_published_limits_without_regard_to_subjects()
    {
        var figures = PairedDifferences.Of([.. Published.SelectMany(s => s.Tested)], [.. Published.SelectMany(s => s.Reference)]).Value;
        Assert.Equal((60, 12), (figures.Pairs, Published.Count));
        Assert.Equal(0.6021667, figures.Bias, 5e-8);
        Assert.Equal(0.9610571, figures.SampleDeviation, 5e-8);
        Assert.Equal(-1.2815052, figures.NaiveLimits.Lower, 2e-7); // published from rounded figures
        Assert.Equal(2.4858386, figures.NaiveLimits.Upper, 1e-7);
        Assert.Equal(-1.28150532, figures.NaiveLimits.Lower, 1e-8);
        Assert.Equal(2.48583865, figures.NaiveLimits.Upper, 1e-8);
    }

    [Fact]
    public void The_published_pairs_give_the_published_limits_where_the_true_value_varies()
    {
        var result = RepeatedMeasures.WhereTruthVaries(Published).Value;
        Assert.Equal((60, 12), (result.Pairs, result.Subjects));
        Assert.Equal(0.60216667, result.Limits.Bias, 1e-8);
        Assert.Equal(0.170714026, result.MeanSquareWithin, 1e-7);
        Assert.Equal(4.2090856, result.MeanSquareBetween, 1e-6);
        Assert.Equal(4.9818182, result.Divisor, 5e-8);
        Assert.Equal(0.98133606, result.Limits.StandardDeviation * result.Limits.StandardDeviation, 1e-7);
        Assert.Equal(0.99062408, result.Limits.StandardDeviation, 1e-7);
        Assert.Equal(-1.3394565, result.Limits.Lower, 2e-7);
        Assert.Equal(2.5437899, result.Limits.Upper, 1e-7);
        Assert.False(result.BetweenTakenAsZero);

        // Arithmetic.
        Assert.Equal(0.17071399, result.MeanSquareWithin, 1e-8);
        Assert.Equal(4.20908606, result.MeanSquareBetween, 1e-8);
        Assert.Equal(4.98181818, result.Divisor, 1e-8);
        Assert.Equal(0.99062411, result.Limits.StandardDeviation, 1e-8);
        Assert.Equal(-1.33945659, result.Limits.Lower, 1e-8);
        Assert.Equal(2.54378992, result.Limits.Upper, 1e-8);
    }

    [Fact]
    public void The_published_pairs_give_the_published_limits_where_the_true_value_is_constant()
    {
        var limits = RepeatedMeasures.WhereTruthIsConstant(Published).Value.Limits;
        Assert.Equal(0.7092361, limits.Bias, 5e-8);
        Assert.Equal(1.0518506, limits.StandardDeviation, 5e-8);
        Assert.Equal(-1.352391, limits.Lower, 5e-7); // arithmetic
        Assert.Equal(2.770863, limits.Upper, 5e-7); // arithmetic
    }

    [Fact]
    public void With_as_many_pairs_from_everyone_both_methods_are_their_simple_selves() =>
        Gen.Select(Gen.Int[2, 6], Gen.Int[2, 8]).SelectMany((m, k) => Gen.Select(Gen.Double[70, 100], Gen.Double[70, 100]).Array[m].Array[k]).Sample(drawn =>
        {
            int k = drawn.Length, m = drawn[0].Length;
            var subjects = drawn.Select(s => new SubjectReadings([.. s.Select(p => p.Item1)], [.. s.Select(p => p.Item2)])).ToList();
            double[] means = [.. subjects.Select(s => s.Tested.Average() - s.Reference.Average())];
            double bias = means.Average();
            double ofMeans = means.Sum(x => (x - bias) * (x - bias)) / (k - 1);
            double within = subjects.Average(s => Variance([.. s.Tested.Zip(s.Reference, (a, b) => a - b)]));

            var varying = RepeatedMeasures.WhereTruthVaries(subjects).Value;
            Assert.Equal(m, varying.Divisor, 1e-9);
            Assert.Equal(bias, varying.Limits.Bias, 1e-9);
            Assert.Equal(m * ofMeans, varying.MeanSquareBetween, 1e-7);
            Assert.Equal(within, varying.MeanSquareWithin, 1e-7);
            Assert.Equal(ofMeans < within / m, varying.BetweenTakenAsZero);
            double total = varying.BetweenTakenAsZero ? within : ofMeans + within * (1 - 1.0 / m);
            Assert.Equal(total, varying.Limits.StandardDeviation * varying.Limits.StandardDeviation, 1e-7);

            var constant = RepeatedMeasures.WhereTruthIsConstant(subjects).Value;
            Assert.Equal(bias, constant.Limits.Bias, 1e-9);
            double expected = ofMeans + (1 - 1.0 / m) * (subjects.Average(s => Variance([.. s.Tested])) + subjects.Average(s => Variance([.. s.Reference])));
            Assert.Equal(expected, constant.Limits.StandardDeviation * constant.Limits.StandardDeviation, 1e-7);
        }, iter: Sampling.Cases(300));

    [Fact]
    public void The_order_of_subjects_and_a_subject_without_numbers_change_nothing()
    {
        var before = RepeatedMeasures.WhereTruthVaries(Published).Value;
        var after = RepeatedMeasures.WhereTruthVaries([new SubjectReadings([double.NaN, 5], [4, double.NaN]), .. Published.Reverse()]).Value;
        Assert.Equal((before.Pairs, before.Subjects), (after.Pairs, after.Subjects));
        Assert.Equal(before.Limits.Lower, after.Limits.Lower, 1e-12);
        var constant = RepeatedMeasures.WhereTruthIsConstant(Published).Value;
        var again = RepeatedMeasures.WhereTruthIsConstant([new SubjectReadings([double.NaN], [4]), .. Published.Reverse()]).Value;
        Assert.Equal(constant.Limits.Upper, again.Limits.Upper, 1e-12);
    }

    [Fact]
    public void Without_subjects_or_repeats_there_are_no_such_limits()
    {
        var one = new SubjectReadings([97, 96], [96, 96]);
        var single = new SubjectReadings([97], [96]);
        Assert.Contains("1 subject(s)", RepeatedMeasures.WhereTruthVaries([one]).WhyNot, StringComparison.Ordinal);
        Assert.Contains("1 subject(s)", RepeatedMeasures.WhereTruthIsConstant([one]).WhyNot, StringComparison.Ordinal);
        Assert.Contains("nobody was measured twice", RepeatedMeasures.WhereTruthVaries([single, single]).WhyNot, StringComparison.Ordinal);
        Assert.Contains("nobody was measured twice", RepeatedMeasures.WhereTruthIsConstant([single, single]).WhyNot, StringComparison.Ordinal);
        Assert.Contains("nobody was measured twice", RepeatedMeasures.WhereTruthIsConstant([new([97, 96], [96]), single]).WhyNot, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => RepeatedMeasures.WhereTruthVaries([one, new([97, 96], [96])]));
    }

    private static double Variance(double[] values)
    {
        double mean = values.Average();
        return values.Sum(v => (v - mean) * (v - mean)) / (values.Length - 1);
    }
}
