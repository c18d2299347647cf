namespace Stillwatch.Oxygenation.Agreement;

/// <summary>Bias and the limits between which about 95 % of differences (tested minus reference) are expected.</summary>
/// <remarks>Bland and Altman, Stat Methods Med Res 1999;8:135: mean ± 1.96 SD. They take the differences to be roughly normal and alike over the range: look at the plot.</remarks>
/// <param name="Bias">Mean difference, or mean of the subjects' mean differences: the method says which.</param>
/// <param name="StandardDeviation">Of a single difference on a new subject.</param>
public readonly record struct LimitsOfAgreement(double Bias, double StandardDeviation)
{
    /// <summary>Of the normal distribution, for 95 %.</summary>
    public const double StandardDeviations = 1.96;

    public double Lower => Bias - StandardDeviations * StandardDeviation;

    public double Upper => Bias + StandardDeviations * StandardDeviation;
}
