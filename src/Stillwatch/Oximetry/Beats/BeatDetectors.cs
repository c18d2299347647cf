namespace Stillwatch.Oximetry.Beats;

/// <summary>The detectors by name.</summary>
public static class BeatDetectors
{
    /// <param name="method">Which.</param>
    /// <param name="rateHz">Samples a second, 25 to 500.</param>
    public static IBeatDetector Create(BeatMethod method, double rateHz) => method switch
    {
        BeatMethod.Threshold => new ThresholdDetector(rateHz),
        BeatMethod.PeaksAndTroughs => new PeaksAndTroughsDetector(rateHz),
        _ => new SlopeSumDetector(rateHz),
    };
}
