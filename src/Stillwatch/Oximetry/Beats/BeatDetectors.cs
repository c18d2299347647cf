namespace Stillwatch.Oximetry.Beats;

/// <summary>The detectors by name.</summary>
/// <remarks>
/// The default is chosen by the row "detectors" of docs/accuracy.md, which eng/accuracy measures on rehearsed light of its own: no other is better there. The
/// slope sum is as good; peaks and troughs count the dicrotic wave of a young heart at 30 a minute. No recording has a say.
/// </remarks>
public static class BeatDetectors
{
    /// <summary>What <see cref="BeatMethod.Default"/> stands for.</summary>
    public const BeatMethod DefaultMethod = BeatMethod.Threshold;

    /// <param name="method">Which.</param>
    /// <param name="rateHz">Samples a second, 25 to 500.</param>
    public static IBeatDetector Create(BeatMethod method, double rateHz) => method switch
    {
        BeatMethod.SlopeSum => new SlopeSumDetector(rateHz),
        BeatMethod.PeaksAndTroughs => new PeaksAndTroughsDetector(rateHz),
        BeatMethod.Threshold => new ThresholdDetector(rateHz),
        _ => Create(DefaultMethod, rateHz),
    };
}
