namespace Stillwatch.Oximetry.Quality;

/// <summary>What is measured of a beat besides its ratio.</summary>
/// <param name="Correlation">With the mean shape of the beats before it, or with that of the last trusted second, whichever is greater.</param>
/// <param name="Skewness">Of its band-passed samples.</param>
/// <param name="BaselineChange">Change of the raw level from trough to trough, over its amplitude.</param>
/// <param name="AmplitudeChange">Its amplitude over the median of the beats before it; NaN: none before.</param>
/// <param name="IntervalChange">Its length over the median of the beats before it; NaN: none before.</param>
/// <param name="IntervalSeconds">From its trough to the next.</param>
/// <param name="ClippedShare">Share of its samples at an end of the converter, the worse of both channels.</param>
public readonly record struct BeatFeatures(
    double Correlation, double Skewness, double BaselineChange, double AmplitudeChange, double IntervalChange, double IntervalSeconds,
    double ClippedShare);

/// <summary>One number, 0 to 1, out of a beat's features: the product of a ramp for each, so that no virtue makes up for a fault.</summary>
/// <remarks>
/// Better in any feature is never worse in the whole. Thresholds without a source beside them were fixed on rehearsed light (seeds below 9000), not on
/// recordings.
/// </remarks>
public static class BeatQuality
{
    /// <summary>Pulse rates that pass, /min: wider than the 40 to 180 of Orphanidou et al., JBHI 2015;19:832, for newborns and athletes.</summary>
    public const double LeastRatePerMinute = 25, GreatestRatePerMinute = 250;

    /// <summary>Around the 0.86 that Orphanidou et al. ask of a pleth's mean correlation (from memory).</summary>
    public static readonly Ramp Correlation = new(0.70, 0.92);

    public static readonly Ramp Skewness = new(-1.0, -0.2);
    public static readonly Ramp BaselineChange = new(4, 1.5);
    public static readonly Ramp AmplitudeChange = new(Math.Log(3), Math.Log(1.6));
    public static readonly Ramp IntervalChange = new(Math.Log(2.2), Math.Log(1.4)); // 2.2: longest over shortest interval in Orphanidou et al.
    public static readonly Ramp ClippedShare = new(0.08, 0.01);

    public static double Of(in BeatFeatures beat)
    {
        double rate = 60 / beat.IntervalSeconds;
        if (!(rate >= LeastRatePerMinute && rate <= GreatestRatePerMinute)) return 0;
        return Correlation.Of(beat.Correlation)
            * (0.5 + 0.5 * Skewness.Of(beat.Skewness))
            * BaselineChange.Of(Math.Abs(beat.BaselineChange))
            * AmplitudeChange.Of(Math.Abs(Math.Log(beat.AmplitudeChange)))
            * (0.5 + 0.5 * IntervalChange.Of(Math.Abs(Math.Log(beat.IntervalChange)))) // an irregular heart is not a bad sensor
            * ClippedShare.Of(beat.ClippedShare);
    }
}
