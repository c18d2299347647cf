using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Oxygenation;

/// <summary>The numbers behind a desaturation event. Those marked so have no source and are our choice.</summary>
public static class DesaturationDefinition
{
    /// <summary>The baseline is the mean over this long before the fall (Chung and Liao's perioperative definition; secondary copy).</summary>
    public static readonly Duration BaselineWindow = Duration.FromSeconds(120);

    /// <summary>An event lasts at least this long (same source).</summary>
    public static readonly Duration AtLeast = Duration.FromSeconds(10);

    /// <summary>The shallower of the two rules.</summary>
    public static readonly Percent Fall = Percent.Of(3);

    /// <summary>The deeper of the two rules.</summary>
    public static readonly Percent DeepFall = Percent.Of(4);

    /// <summary>Sparser series have no events.</summary>
    public static readonly Duration LongestPeriod = Duration.FromSeconds(5);

    /// <summary>So much of the baseline window must be valid: half. Our choice, no source; the same half as the averaging of rule R4.</summary>
    internal const long HistoryMilliseconds = 60_000;

    /// <summary>Nearer to the mean than half a displayed point is no fall. Our choice, no source.</summary>
    internal const int OnsetMicro = FixedPoint.One / 2;

    /// <summary>A recovery must hold this long, so that one stray sample does not cut an event in two. Our choice, no source.</summary>
    internal const long RecoveryMilliseconds = 3000;

    /// <summary>A rise is over when the value has not got further for this long. Our choice, no source.</summary>
    internal const long NoFurtherMilliseconds = 10_000;

    /// <summary>The definition as printed beside every count.</summary>
    public const string Words =
        "Desaturation event: the value falls by at least 3 % (ODI3) or 4 % (ODI4) from the time-weighted mean of the valid values "
        + "in the 120 s before the fall (at least 60 s of them valid), reaches that depth within 120 s, and is at least half of "
        + "the 3 % (4 %) below that mean for at least 10 s in all. It ends at the top of the rise that makes good two thirds "
        + "of the fall for 3 s, at a new fall from a level held for 120 s, at a loss that is not bridged (60 s), or with the "
        + "recording. There is no accepted standard for ODI; other definitions give other counts.";
}
