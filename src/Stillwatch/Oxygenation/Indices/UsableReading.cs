using Stillwatch.Quantities;

namespace Stillwatch.Oxygenation.Indices;

/// <summary>Which readings of an oximeter an index or a score may be made of. Compared as given, not rounded.</summary>
internal static class UsableReading
{
    /// <summary>The highest SpO2 at which a ratio with inhaled oxygen says anything: above it the curve is flat.</summary>
    /// <remarks>Rice et al., Chest 2007;132:410, derived on SpO2 ≤ 97 %; the same advice in a Lancet Respir Med 2022 review.</remarks>
    public static readonly Percent HighestForRatios = Percent.Of(97);

    /// <summary>Null where it can be used. Zero is how devices write "no reading"; it is never 0 %.</summary>
    public static string? WhyNot(Percent spO2) =>
        spO2 > Percent.FromMicro(0) && spO2 <= Percent.Of(100) ? null : $"SpO2 is {spO2}; expected above 0 and up to 100 % (0 is how devices write \"no reading\")";

    public static string? WhyNoRatio(Percent spO2) =>
        WhyNot(spO2) ?? (spO2 <= HighestForRatios ? null : $"SpO2 is {spO2}; the index says nothing above {HighestForRatios}, where the dissociation curve is flat");
}
