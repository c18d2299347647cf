namespace Stillwatch.Oximetry.Ratio;

/// <summary>The ratio of ratios over the averaging window.</summary>
/// <param name="Ratio">NaN: none.</param>
/// <param name="Spread">One standard error of it, from how the beats scatter; NaN with fewer than two.</param>
/// <param name="Scatter">How far single beats lie from it, robustly, relative to it; NaN with fewer than two.</param>
/// <param name="Beats">Beats that it rests on.</param>
public readonly record struct CombinedRatio(double Ratio, double Spread, double Scatter, int Beats)
{
    public static CombinedRatio None => new(double.NaN, double.NaN, double.NaN, 0);
}

/// <summary>The beats of the averaging window, put together so that one wild beat does not move the ratio. Fixed memory.</summary>
public sealed class RatioWindow(double seconds)
{
    private readonly double lengthSeconds = seconds;
    private double lastSeconds = double.NegativeInfinity, last = double.NaN;

    /// <summary>Takes the next beat.</summary>
    public void Add(double upstrokeSeconds, in BeatRatio beat, double quality)
    {
        lastSeconds = upstrokeSeconds;
        if (quality > 0) last = beat.Slope;
    }

    /// <summary>The ratio over (end − window, end].</summary>
    public CombinedRatio Combine(double endSeconds) => lastSeconds > endSeconds - lengthSeconds ? new(last, 0, 0, 1) : CombinedRatio.None;

    public void Reset() => lastSeconds = double.NegativeInfinity;
}
