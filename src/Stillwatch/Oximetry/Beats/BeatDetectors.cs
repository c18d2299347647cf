namespace Stillwatch.Oximetry.Beats;

/// <summary>The detectors by name.</summary>
public static class BeatDetectors
{
    public static IBeatDetector Create(BeatMethod method, double rateHz) => method switch
    {
        BeatMethod.Threshold => new ThresholdDetector(rateHz),
        _ => new ThresholdDetector(rateHz),
    };
}
