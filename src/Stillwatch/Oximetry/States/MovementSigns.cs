using Stillwatch.Oximetry.Quality;

namespace Stillwatch.Oximetry.States;

/// <summary>
/// Signs of movement, each from 0 (as at rest) over 1 (bad by itself) to 1.5, added up: movement seldom shows in one place only, and one sign alone may be an irregular
/// heart, a stiff artery or a deep breath.
/// </summary>
/// <remarks>Own choice, fixed on rehearsed light (seeds below 9000). A feature that is not known is no sign.</remarks>
public static class MovementSigns
{
    private const double MostOfOne = 1.5;

    /// <summary>Size and time together: an irregular heart changes both, and moves nothing.</summary>
    private const double MostOfHeart = 1;

    /// <summary>A pulse that leans the other way is no movement by itself, however far it leans.</summary>
    private const double MostOfLean = 1;

    /// <summary>
    /// Movement moves both lights about alike, so its ratio lies around 1; there signs weigh more. Not the lean: a pulse that leans the other way is a shape that some arteries have at any
    /// saturation, and blood of 70 to 85 % has such a ratio too.
    /// </summary>
    private const double WeightNearOne = 1.5;

    public static readonly Ramp Shape = new(0.98, 0.88);
    public static readonly Ramp Unlike = new(0.003, 0.05);
    public static readonly Ramp Skewness = new(0.1, -0.2);
    public static readonly Ramp AmplitudeSpread = new(1.3, 2.5);
    public static readonly Ramp IntervalSpread = new(1.3, 3);
    public static readonly Ramp SpectralShare = new(0.93, 0.6);
    public static readonly Ramp Wander = new(0.5, 2);

    public static double Of(in SecondEvidence e)
    {
        double signs = Sign(Shape, e.Shape) + Sign(Unlike, e.Unlike) + Sign(SpectralShare, e.SpectralShare) + Sign(Wander, e.Wander)
            + Math.Min(MostOfHeart, Sign(AmplitudeSpread, e.AmplitudeSpread) + Sign(IntervalSpread, e.IntervalSpread));
        return Math.Min(MostOfLean, Sign(Skewness, e.Skewness)) + (e.Ratio is > 0.7 and < 1.4 ? WeightNearOne * signs : signs);
    }

    // The ramp's "good" end is the sign's full size.
    private static double Sign(Ramp ramp, double value) =>
        double.IsNaN(value) ? 0 : Math.Clamp((value - ramp.Bad) / (ramp.Good - ramp.Bad), 0, MostOfOne);
}
