namespace Stillwatch.Rehearsal.Sensor;

/// <summary>Breaths one after another, with a little variation of their length.</summary>
internal sealed class BreathClock(double variation, SeededRandom chance)
{
    private double share = chance.Unit();
    private double pace = 1;

    /// <summary>−1 to 1, rising while air goes in; whether or not it does.</summary>
    public double Wave { get; private set; }

    /// <summary>Moves on by a sample; true when a breath is begun.</summary>
    public bool Advance(double stepSeconds, double ratePerMinute)
    {
        share += Math.Max(0, ratePerMinute) / 60 * stepSeconds * pace;
        bool begins = share >= 1;
        if (begins)
        {
            share -= Math.Floor(share);
            pace = Math.Clamp(1 + variation * chance.Normal(), 0.6, 1.6);
        }

        // Air goes in during the first 40 % of a breath (common practice, no source).
        double placed = share < 0.4 ? share / 0.8 : 0.5 + (share - 0.4) / 1.2;
        Wave = -Math.Cos(2 * Math.PI * placed);
        return begins;
    }
}
