namespace Stillwatch.Rehearsal.Sensor;

/// <summary>Beats one after another: each beat's length is drawn when it begins.</summary>
internal sealed class HeartClock(double sinusVariation, double slowVariation, SeededRandom chance)
{
    // Below this the heart is taken to stand still: the next beat waits.
    private const double StandstillPerMinute = 5;
    private const double SlowSeconds = 8;

    private double slow;
    private bool begun;

    public double StartSeconds { get; private set; }

    /// <summary>Of the present beat; 0 while the heart stands still.</summary>
    public double LengthSeconds { get; private set; }

    public bool Beats => LengthSeconds > 0;

    /// <summary>Moves on; true when a beat has begun since the last call.</summary>
    /// <param name="seconds">Of the sample.</param>
    /// <param name="ratePerMinute">Now.</param>
    /// <param name="breath">−1 to 1: where in the breath the heart is, 0 without breathing.</param>
    public bool Reaches(double seconds, double ratePerMinute, double breath)
    {
        if (Beats && seconds < StartSeconds + LengthSeconds) return false;
        double start = Beats ? StartSeconds + LengthSeconds : seconds;
        if (ratePerMinute < StandstillPerMinute)
        {
            LengthSeconds = 0;
            return false;
        }

        double mean = 60 / ratePerMinute;
        double kept = Math.Exp(-mean / SlowSeconds);
        slow = begun ? kept * slow + Math.Sqrt(1 - kept * kept) * chance.Normal() : chance.Normal();
        LengthSeconds = mean * Math.Clamp(1 - sinusVariation * breath + slowVariation * slow, 0.5, 1.5);
        if (!begun && seconds == 0) start -= chance.Unit() * LengthSeconds; // a recording begins anywhere in a beat
        begun = true;
        StartSeconds = start;
        return true;
    }

    public double ShareAt(double seconds) => Math.Clamp((seconds - StartSeconds) / LengthSeconds, 0, 1);
}
