namespace Stillwatch.Oximetry.Ratio;

/// <summary>The ratio of ratios over one beat, estimated twice, with the sums that a window puts together.</summary>
/// <param name="PeakTrough">Red over infrared amplitude; NaN: none.</param>
/// <param name="Slope">Slope of red on infrared with noise in both; NaN: none.</param>
/// <param name="InfraredAmplitude">At the peak over a line from trough to trough.</param>
/// <param name="RedAmplitude">Red at the same instant, over its own line.</param>
/// <param name="Sums">Centred sums over the beat.</param>
/// <param name="NoiseRatio">Variance of red's noise over infrared's, as the slope was told.</param>
public readonly record struct BeatRatio(
    double PeakTrough, double Slope, double InfraredAmplitude, double RedAmplitude, PairSums Sums, double NoiseRatio)
{
    /// <summary>No red light.</summary>
    public static BeatRatio None => new(double.NaN, double.NaN, double.NaN, double.NaN, default, 1);
}

/// <summary>Centred sums of squares and products of infrared x and red y.</summary>
/// <param name="Xx">Σ(x − x̄)².</param>
/// <param name="Xy">Σ(x − x̄)(y − ȳ).</param>
/// <param name="Yy">Σ(y − ȳ)².</param>
/// <param name="Count">Pairs.</param>
public readonly record struct PairSums(double Xx, double Xy, double Yy, int Count)
{
    /// <summary>Pearson's correlation; 0 where one of both does not move.</summary>
    public double Correlation => Xx > 0 && Yy > 0 ? Xy / Math.Sqrt(Xx * Yy) : 0;

    /// <summary>
    /// Sum of squares along the common line, red's unit brought to infrared's noise: the greater eigenvalue. The size of a beat for its weight: other than
    /// the sum of one channel it is, to first order, as likely large when the slope reads high as when it reads low.
    /// </summary>
    public double Size(double noiseRatio)
    {
        double y = Yy / noiseRatio, difference = Xx - y;
        return 0.5 * (Xx + y + Math.Sqrt(difference * difference + 4 * Xy * Xy / noiseRatio));
    }
}
