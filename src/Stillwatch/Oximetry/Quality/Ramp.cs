namespace Stillwatch.Oximetry.Quality;

/// <summary>How a feature becomes a share of quality: 0 at what is bad, 1 at what is good, a straight line between; NaN, not known, is no reproach: 1.</summary>
/// <param name="Bad">From here on 0.</param>
/// <param name="Good">From here on 1; above or below <paramref name="Bad"/>.</param>
public readonly record struct Ramp(double Bad, double Good)
{
    public double Of(double value) => double.IsNaN(value) ? 1 : Math.Clamp((value - Bad) / (Good - Bad), 0, 1);
}
