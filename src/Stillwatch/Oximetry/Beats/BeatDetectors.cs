namespace Stillwatch.Oximetry.Beats;

/// <summary>The detectors by name.</summary>
/// <remarks>
/// The default is the one that was best on rehearsed light: 38 kinds of it (30 to 240 beats a minute, three shapes of pulse, perfusion 2 down to 0.05 %, noise,
/// deep breathing, irregular beats, jerks, movement), three times two minutes each; mean F1 0.960 for the threshold, 0.957 for the slope sum, 0.955
/// for peaks and troughs, which count the dicrotic wave of a young heart at 30 a minute. No recording had a say.
/// </remarks>
public static class BeatDetectors
{
    /// <param name="method">Which.</param>
    /// <param name="rateHz">Samples a second, 25 to 500.</param>
    public static IBeatDetector Create(BeatMethod method, double rateHz) => method switch
    {
        BeatMethod.SlopeSum => new SlopeSumDetector(rateHz),
        BeatMethod.PeaksAndTroughs => new PeaksAndTroughsDetector(rateHz),
        _ => new ThresholdDetector(rateHz),
    };
}
