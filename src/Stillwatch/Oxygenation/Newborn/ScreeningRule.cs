using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Oxygenation.Newborn;

/// <summary>A published table of the newborn pulse-oximetry screen for critical congenital heart disease.</summary>
/// <param name="Name">Its year, as pages print it.</param>
/// <param name="BothMustReach95">Whether 95 % is wanted in right hand and foot, or in either.</param>
/// <param name="Retests">How many may follow the first measurement.</param>
/// <param name="Source">Where it is published.</param>
public sealed record ScreeningRule(string Name, bool BothMustReach95, int Retests, string Source)
{
    /// <summary>95 % in either, up to two retests.</summary>
    public static ScreeningRule Of2011 { get; } = new("2011", false, 2, "endorsed by the American Academy of Pediatrics in 2011; below 90 %, the hour and three measurements from a secondary copy");

    /// <summary>95 % in both, one retest.</summary>
    public static ScreeningRule Of2025 { get; } = new("2025", true, 1, "Oster et al., Pediatrics 2025;155(1):e2024069667; so advised by Martin et al., Pediatrics 2020;146:e20191650");

    /// <summary>At and above it a site is well saturated.</summary>
    public static readonly Percent Reached = Percent.Of(95);

    /// <summary>Below it, at either site, the screen is failed at once.</summary>
    public static readonly Percent FailBelow = Percent.Of(90);

    /// <summary>A difference of this much still passes, more does not. The boundary is from memory; one page prints "less than 3".</summary>
    public static readonly Percent LargestDifference = Percent.Of(3);

    /// <summary>How long to wait before a retest.</summary>
    public static readonly Duration Wait = Duration.FromHours(1);

    /// <summary>What one measurement says by itself, before retests are counted. Compared as given, not rounded.</summary>
    public ScreeningVerdict Judge(ScreeningReading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        if (reading.RightHand < FailBelow || reading.Foot < FailBelow) return ScreeningVerdict.Fail;
        bool hand = reading.RightHand >= Reached, foot = reading.Foot >= Reached;
        bool reached = BothMustReach95 ? hand && foot : hand || foot;
        int difference = Math.Abs(reading.RightHand.Micro - reading.Foot.Micro);
        return reached && difference <= LargestDifference.Micro ? ScreeningVerdict.Pass : ScreeningVerdict.Retest;
    }
}
