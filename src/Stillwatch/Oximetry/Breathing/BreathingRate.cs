namespace Stillwatch.Oximetry.Breathing;

/// <summary>Respiratory rate from beats in the order of time, in windows side by side from second 0.</summary>
public sealed class BreathingRate
{
    private readonly double windowSeconds;
    private readonly IOximetrySink sink;
    private double windowStart;

    public BreathingRate(double windowSeconds, IOximetrySink sink)
    {
        this.windowSeconds = windowSeconds;
        this.sink = sink;
    }

    /// <summary>The next beat.</summary>
    public void Take(in Beat beat) => PassTo(beat.UpstrokeSeconds);

    /// <summary>All beats before this time have been given.</summary>
    public void PassTo(double seconds)
    {
        while (windowStart + windowSeconds <= seconds)
        {
            sink.Take(new BreathingReading(windowStart, windowSeconds, double.NaN, double.NaN, double.NaN, double.NaN));
            windowStart += windowSeconds;
        }
    }

    /// <summary>The light ends here: windows that end by then are given.</summary>
    public void End(double seconds) => PassTo(seconds);
}
