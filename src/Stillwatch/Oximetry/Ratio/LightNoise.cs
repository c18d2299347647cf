using System.Numerics.Tensors;

namespace Stillwatch.Oximetry.Ratio;

/// <summary>How noisy one channel of light is, from sample to sample, without knowing what it shows.</summary>
public static class LightNoise
{
    /// <summary>Variance of a third difference of independent noise of variance 1: 1² + 3² + 3² + 1².</summary>
    private const double ThirdDifferenceGain = 20;

    private const int Stride = 3; // neighbours share most of their samples and add little

    /// <summary>Whole periods of every multiple of 5 Hz, so of lamps on 50 and 60 Hz mains and of what sampling makes of their flicker at 125, 250 or 500 Hz.</summary>
    private const double LampSeconds = 0.2;

    /// <summary>
    /// Variance of the noise over the squared mean of the light, which is its variance in natural-log units: from third differences, less
    /// what they were 0.2 s before, so that lamps on the mains do not count.
    /// </summary>
    /// <remarks>
    /// A parabola has no third difference, and a pulse band-limited to 8 Hz nearly none at 125 Hz. At 25 to 50 Hz the pulse is in it; what is used is the
    /// quotient of two channels, which then tends to the squared ratio of their pulses: the slope told so is the quotient of the two
    /// spreads, still without the bias of plain least squares. NaN with less than half a second of samples, with NaN among them, or with a mean of 0.
    /// </remarks>
    public static double RelativeVariance(ReadOnlySpan<double> light, double rateHz)
    {
        int lag = (int)Math.Round(LampSeconds * rateHz);
        if (light.Length < 2 * lag + 3) return double.NaN;
        double mean = TensorPrimitives.Sum(light) / light.Length, squares = 0;
        if (mean == 0) return double.NaN;
        int count = light.Length - 3 - lag;
        var here = light[lag..];
        int taken = 0;
        for (int i = 0; i < count; i += Stride, taken++)
        {
            double change = here[i + 3] - light[i + 3] - (here[i] - light[i]) + 3 * (here[i + 1] - light[i + 1] - (here[i + 2] - light[i + 2]));
            squares += change * change;
        }

        return squares / taken / (2 * ThirdDifferenceGain) / (mean * mean);
    }
}
