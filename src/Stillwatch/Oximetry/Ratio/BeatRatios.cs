using System.Numerics.Tensors;

namespace Stillwatch.Oximetry.Ratio;

/// <summary>
/// Two estimates of the ratio of ratios over one beat, from band-passed −ln(light) of both channels. The logarithm is the other form of
/// AC/DC: R = ln(Imax/Imin) of red over that of infrared; for small pulses both are one (Webster (ed.), Design of Pulse Oximeters, 1997, from
/// memory; small-signal form: https://chatppg.com/algorithms/spo2-ratio-of-ratios, secondary copy). At a perfusion of 10 % the forms
/// AC/mean and ln differ by less than 0.1 % of R as long as both channels swing alike.
/// </summary>
public static class BeatRatios
{
    /// <param name="infrared">From trough to next trough, both included.</param>
    /// <param name="red">The same instants.</param>
    /// <param name="peakIndex">Where infrared peaks.</param>
    /// <param name="noiseRatio">Variance of red's noise over infrared's; above 0.</param>
    /// <returns>Estimates that are NaN where infrared does not rise, spans are shorter than 3 or hold NaN.</returns>
    public static BeatRatio Of(ReadOnlySpan<double> infrared, ReadOnlySpan<double> red, int peakIndex, double noiseRatio)
    {
        if (infrared.Length < 3 || red.Length != infrared.Length || peakIndex <= 0 || peakIndex >= infrared.Length - 1) return BeatRatio.None;
        double infraredAmplitude = AboveLine(infrared, peakIndex);
        double redAmplitude = AboveLine(red, peakIndex);
        var sums = Sums(infrared, red);
        return new BeatRatio(
            infraredAmplitude > 0 ? redAmplitude / infraredAmplitude : double.NaN,
            Slope(sums, noiseRatio), infraredAmplitude, redAmplitude, sums, noiseRatio);
    }

    /// <summary>Height at <paramref name="index"/> over the straight line from the first sample to the last.</summary>
    public static double AboveLine(ReadOnlySpan<double> beat, int index)
    {
        double line = beat[0] + (beat[^1] - beat[0]) * index / (beat.Length - 1);
        return beat[index] - line;
    }

    /// <summary>Sums over the samples about their means.</summary>
    public static PairSums Sums(ReadOnlySpan<double> infrared, ReadOnlySpan<double> red)
    {
        double meanX = TensorPrimitives.Sum(infrared) / infrared.Length, meanY = TensorPrimitives.Sum(red) / red.Length;
        double xx = 0, xy = 0, yy = 0;
        for (int i = 0; i < infrared.Length; i++)
        {
            double x = infrared[i] - meanX, y = red[i] - meanY;
            xx += x * x;
            xy += x * y;
            yy += y * y;
        }

        return new PairSums(xx, xy, yy, infrared.Length);
    }

    /// <summary>
    /// Errors-in-variables slope with a known ratio λ of the noise variances, red over infrared (Deming 1943; Fuller, Measurement Error
    /// Models, 1987, §1.3; both from memory): b = [Syy − λSxx + √((Syy − λSxx)² + 4λSxy²)] / (2Sxy).
    /// </summary>
    /// <remarks>
    /// Plain least squares takes infrared for exact and reads low by signal/(signal + noise) of the infrared's variance; at a perfusion of 0.2 %
    /// that is worth points of saturation. This slope is consistent as long as λ is right, whatever the size of the noise; with λ = 1 it is
    /// total least squares. NaN where both do not move together.
    /// </remarks>
    public static double Slope(in PairSums sums, double noiseRatio)
    {
        if (!(sums.Xy > 0)) return double.NaN;
        double difference = sums.Yy - noiseRatio * sums.Xx;
        double root = Math.Sqrt(difference * difference + 4 * noiseRatio * sums.Xy * sums.Xy);
        // The two forms are equal; this one loses no digits where the difference is below zero.
        return difference > 0 ? (difference + root) / (2 * sums.Xy) : 2 * noiseRatio * sums.Xy / (root - difference);
    }
}
