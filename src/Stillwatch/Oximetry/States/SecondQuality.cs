using Stillwatch.Oximetry.Quality;

namespace Stillwatch.Oximetry.States;

/// <summary>One number, 0 to 1, out of a second's evidence: the product of a ramp for each feature; better in any is never worse in the whole.</summary>
public static class SecondQuality
{
    public static readonly Ramp Shape = new(0.70, 0.95);
    public static readonly Ramp SpectralShare = new(0.3, 0.8);
    public static readonly Ramp ClippedShare = new(0.1, 0);
    public static readonly Ramp AmplitudeSpread = new(4, 1.6);
    public static readonly Ramp IntervalSpread = new(4, 1.5);
    public static readonly Ramp Wander = new(3, 1);
    public static readonly Ramp Unlike = new(0.4, 0.05);

    /// <summary>0 without beats near.</summary>
    public static double Of(in SecondEvidence e) => e.NearBeats == 0 ? 0
        : Shape.Of(e.Shape) * (0.3 + 0.7 * SpectralShare.Of(e.SpectralShare)) * ClippedShare.Of(e.ClippedShare) * (0.3 + 0.7 * AmplitudeSpread.Of(e.AmplitudeSpread))
            * (0.5 + 0.5 * IntervalSpread.Of(e.IntervalSpread)) * (0.2 + 0.8 * Wander.Of(e.Wander)) * (0.2 + 0.8 * Unlike.Of(e.Unlike));
}
