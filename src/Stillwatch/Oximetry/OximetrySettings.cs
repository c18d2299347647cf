using Stillwatch.Oximetry.Calibration;
using Stillwatch.Time;

namespace Stillwatch.Oximetry;

/// <summary>All that decides what the chain makes of light. Defaults are fixed; docs/accuracy.md says on what evidence.</summary>
public sealed record OximetrySettings
{
    /// <summary>How a ratio becomes a saturation; its name and source stand on every output.</summary>
    public CalibrationCurve Curve { get; init; } = CalibrationCurve.Linear;

    /// <summary>Why this curve, in words that stand beside its name on every output.</summary>
    public string CurveBecause { get; init; } = DerivedWords.CurveOfNothingElse;

    /// <summary>Over how long numbers are averaged.</summary>
    public Duration Averaging { get; init; } = Duration.FromSeconds(8);

    public BeatMethod Beats { get; init; } = BeatMethod.Default;

    /// <summary>Window of the respiratory rate.</summary>
    public Duration BreathingWindow { get; init; } = Duration.FromSeconds(32);
}

/// <summary>Which beat detector is used.</summary>
public enum BeatMethod
{
    /// <summary>The plain threshold: none is better in the comparison of detectors (row "detectors" of docs/accuracy.md).</summary>
    Default,
    SlopeSum,
    PeaksAndTroughs,
    Threshold,
}
