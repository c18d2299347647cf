using MathNet.Numerics.Statistics;

namespace Stillwatch.Oxygenation.Agreement;

/// <summary>What pairs of a tested and a reference reading say, each pair counted alike.</summary>
/// <remarks>
/// Arms = √(Σ(tested − reference)²/n), the accuracy of ISO 80601-2-61 (formula from memory; agrees with the pooled row of PMC10726006).
/// Arms² = bias² + SD² holds with the SD that divides by n. Where subjects gave several pairs each, these limits are too
/// narrow: see <see cref="RepeatedMeasures"/>.
/// </remarks>
/// <param name="Pairs">Pairs with both numbers.</param>
/// <param name="Skipped">Pairs of which one or both were no number (NaN or infinite).</param>
/// <param name="Bias">Mean of tested minus reference.</param>
/// <param name="SampleDeviation">SD of the differences, dividing by n − 1: for limits of agreement.</param>
/// <param name="PopulationDeviation">SD of the differences, dividing by n: the one in the identity of Arms.</param>
/// <param name="Arms">Root mean square difference.</param>
public sealed record PairedDifferences(int Pairs, int Skipped, double Bias, double SampleDeviation, double PopulationDeviation, double Arms)
{
    /// <summary>Limits that ignore which pairs belong to one subject.</summary>
    public LimitsOfAgreement NaiveLimits => new(Bias, SampleDeviation);

    /// <returns>The figures, or why there are none: fewer than two whole pairs.</returns>
    /// <exception cref="ArgumentException">Not as many tested as reference readings.</exception>
    public static Answer<PairedDifferences> Of(ReadOnlySpan<double> tested, ReadOnlySpan<double> reference)
    {
        double[] differences = Differences(tested, reference);
        if (differences.Length < 2) return Answer.None<PairedDifferences>($"{differences.Length} pair(s) with both numbers; expected at least 2");
        return Answer.Of(new PairedDifferences(
            differences.Length,
            tested.Length - differences.Length,
            ArrayStatistics.Mean(differences),
            ArrayStatistics.StandardDeviation(differences),
            ArrayStatistics.PopulationStandardDeviation(differences),
            ArrayStatistics.RootMeanSquare(differences)));
    }

    internal static double[] Differences(ReadOnlySpan<double> tested, ReadOnlySpan<double> reference)
    {
        if (tested.Length != reference.Length) throw new ArgumentException($"{tested.Length} tested and {reference.Length} reference readings; expected as many of each.", nameof(reference));
        var differences = new List<double>(tested.Length);
        for (int i = 0; i < tested.Length; i++)
        {
            double difference = tested[i] - reference[i];
            if (double.IsFinite(difference)) differences.Add(difference);
        }

        return [.. differences];
    }
}
