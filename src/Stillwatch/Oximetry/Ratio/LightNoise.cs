namespace Stillwatch.Oximetry.Ratio;

/// <summary>How noisy one channel of light is, from sample to sample, without knowing what it shows.</summary>
public static class LightNoise
{
    /// <summary>Variance of a third difference of independent noise of variance 1: 1² + 3² + 3² + 1².</summary>
    private const double ThirdDifferenceGain = 20;

    /// <summary>
    /// Variance of the noise over the squared mean of the light, which is its variance in natural-log units: mean square of third differences / 20.
    /// </summary>
    /// <remarks>
    /// A parabola has no third difference, and a pulse band-limited to 8 Hz nearly none at 125 Hz. At 25 to 50 Hz the pulse is in it; what is used is the
    /// quotient of two channels, which then tends to the squared ratio of their pulses: the slope told so is the quotient of the two
    /// spreads, still without the bias of plain least squares. NaN with fewer than 4 samples, with NaN among them, or with a mean of 0.
    /// </remarks>
    public static double RelativeVariance(ReadOnlySpan<double> light)
    {
        if (light.Length < 4) return double.NaN;
        double squares = 0, sum = light[0] + light[1] + light[2];
        for (int i = 3; i < light.Length; i++)
        {
            double third = light[i] - light[i - 3] + 3 * (light[i - 2] - light[i - 1]);
            squares += third * third;
            sum += light[i];
        }

        double mean = sum / light.Length;
        return mean == 0 ? double.NaN : squares / (light.Length - 3) / ThirdDifferenceGain / (mean * mean);
    }
}
