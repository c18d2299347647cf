using Stillwatch.Time;

namespace Stillwatch.Conditioning;

/// <summary>Which values count at all (rule R2).</summary>
public enum ValidityRule
{
    Standard,

    /// <summary>Every number counts as it stands.</summary>
    None,
}

/// <summary>Rule R6.</summary>
public enum Rounding
{
    /// <summary>As displayed: half away from zero to 1 % or 1 /min.</summary>
    Display,
    None,
}

/// <summary>All that turns a channel's rows into its conditioned series: validity, averaging, hold, rounding (rules R2–R6).</summary>
/// <param name="Validity">Rule R2.</param>
/// <param name="Averaging">Our averaging time, on top of the source's own (R4); zero or up to one period: none.</param>
/// <param name="GapTolerance">g of rule R5; where the period is longer than 5 s it is raised to at least the period.</param>
/// <param name="Rounding">Rule R6.</param>
public sealed record ConditioningSettings(ValidityRule Validity, Duration Averaging, Duration GapTolerance, Rounding Rounding)
{
    public static readonly ConditioningSettings Default = new(ValidityRule.Standard, Duration.Zero, Duration.FromSeconds(5), Rounding.Display);

    /// <summary>P + g: how long after a value it still holds (R5).</summary>
    public Duration HoldAfter(Duration period) => period + EffectiveGapTolerance(period);

    public Duration EffectiveGapTolerance(Duration period) =>
        period > Duration.FromSeconds(5) && GapTolerance < period ? period : GapTolerance;
}
