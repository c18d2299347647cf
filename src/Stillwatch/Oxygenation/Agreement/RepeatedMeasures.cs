namespace Stillwatch.Oxygenation.Agreement;

/// <summary>Limits of agreement where the true value changes from pair to pair, as in a controlled desaturation.</summary>
/// <param name="Pairs">Whole pairs.</param>
/// <param name="Subjects">Subjects with at least one whole pair.</param>
/// <param name="MeanSquareBetween">Of subjects, in the one-way analysis of variance of the differences.</param>
/// <param name="MeanSquareWithin">Residual.</param>
/// <param name="Divisor">(n² − Σm²)/((k − 1)·n): what stands for the number of pairs per subject.</param>
/// <param name="BetweenTakenAsZero">The subjects differed by less than chance would make them: a negative variance was taken as zero.</param>
/// <param name="Limits">Bias is the mean over all pairs.</param>
public sealed record VaryingTruth(int Pairs, int Subjects, double MeanSquareBetween, double MeanSquareWithin, double Divisor, bool BetweenTakenAsZero, LimitsOfAgreement Limits);

/// <summary>Limits of agreement where each subject's true value stays the same while it is measured several times by each method.</summary>
/// <param name="Subjects">Subjects with at least one number by each method.</param>
/// <param name="VarianceOfMeans">Of the subjects' mean differences.</param>
/// <param name="TestedWithin">Residual variance of the tested method within subjects.</param>
/// <param name="ReferenceWithin">Residual variance of the reference within subjects.</param>
/// <param name="Limits">Bias is the mean of the subjects' mean differences.</param>
public sealed record ConstantTruth(int Subjects, double VarianceOfMeans, double TestedWithin, double ReferenceWithin, LimitsOfAgreement Limits);

/// <summary>Limits of agreement that know which readings belong to one subject.</summary>
/// <remarks>
/// Bland and Altman, J Biopharm Stat 2007;17:571 (its data and results are the check), and Stat Methods Med Res 1999;8:135. Pairs with
/// something that is no number are left out, as are subjects without any left.
/// </remarks>
public static class RepeatedMeasures
{
    /// <returns>The limits, or why there are none: fewer than two subjects, or nobody with two pairs.</returns>
    /// <exception cref="ArgumentException">A subject with unequal numbers of readings: pairs are needed here.</exception>
    public static Answer<VaryingTruth> WhereTruthVaries(IReadOnlyList<SubjectReadings> subjects)
    {
        ArgumentNullException.ThrowIfNull(subjects);
        var groups = subjects.Select(s => PairedDifferences.Differences([.. s.Tested], [.. s.Reference])).Where(d => d.Length > 0).ToList();
        int k = groups.Count, n = groups.Sum(g => g.Length);
        if (WhyNot(k, n) is { } why) return Answer.None<VaryingTruth>(why);
        double bias = groups.Sum(g => g.Sum()) / n;
        double within = groups.Sum(SquaresAroundMean) / (n - k);
        double between = groups.Sum(g => g.Length * Square(g.Average() - bias)) / (k - 1);
        double divisor = ((double)n * n - groups.Sum(g => (double)g.Length * g.Length)) / ((k - 1) * (double)n);
        double component = (between - within) / divisor;
        return Answer.Of(new VaryingTruth(n, k, between, within, divisor, component < 0, new LimitsOfAgreement(bias, Math.Sqrt(within + Math.Max(0, component)))));
    }

    /// <summary>The variance of a single difference is that of the means, with what averaging took away put back for each method.</summary>
    /// <returns>The limits, or why there are none: fewer than two subjects, or a method with no repeats at all.</returns>
    public static Answer<ConstantTruth> WhereTruthIsConstant(IReadOnlyList<SubjectReadings> subjects)
    {
        ArgumentNullException.ThrowIfNull(subjects);
        var whole = subjects.Select(s => (Tested: Numbers(s.Tested), Reference: Numbers(s.Reference))).Where(s => s.Tested.Length > 0 && s.Reference.Length > 0).ToList();
        int k = whole.Count;
        if (WhyNot(k, whole.Sum(s => s.Tested.Length)) is { } tested) return Answer.None<ConstantTruth>(tested);
        if (WhyNot(k, whole.Sum(s => s.Reference.Length)) is { } reference) return Answer.None<ConstantTruth>(reference);
        double[] means = [.. whole.Select(s => s.Tested.Average() - s.Reference.Average())];
        double bias = means.Average(), ofMeans = SquaresAroundMean(means) / (k - 1);
        double testedWithin = Within([.. whole.Select(s => s.Tested)]), referenceWithin = Within([.. whole.Select(s => s.Reference)]);
        double variance = ofMeans
            + (1 - whole.Average(s => 1.0 / s.Tested.Length)) * testedWithin
            + (1 - whole.Average(s => 1.0 / s.Reference.Length)) * referenceWithin;
        return Answer.Of(new ConstantTruth(k, ofMeans, testedWithin, referenceWithin, new LimitsOfAgreement(bias, Math.Sqrt(variance))));
    }

    private static string? WhyNot(int subjects, int readings)
    {
        if (subjects < 2) return $"{subjects} subject(s) with numbers; expected at least 2";
        return readings > subjects ? null : "nobody was measured twice: use the limits for single pairs";
    }

    private static double Within(IReadOnlyList<double[]> groups) => groups.Sum(SquaresAroundMean) / (groups.Sum(g => g.Length) - groups.Count);

    private static double[] Numbers(IReadOnlyList<double> readings) => [.. readings.Where(double.IsFinite)];

    private static double SquaresAroundMean(double[] values)
    {
        double mean = values.Average();
        return values.Sum(v => Square(v - mean));
    }

    private static double Square(double x) => x * x;
}
