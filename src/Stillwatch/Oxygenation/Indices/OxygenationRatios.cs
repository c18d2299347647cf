using Stillwatch.Oxygenation.Dissociation;
using Stillwatch.Quantities;

namespace Stillwatch.Oxygenation.Indices;

/// <summary>What a published S/F cut point stands for.</summary>
public enum RiceBand
{
    /// <summary>S/F above 315: P/F is likely above 300 Torr.</summary>
    Above315,

    /// <summary>S/F above 235, up to 315: P/F is likely up to 300 Torr.</summary>
    UpTo315,

    /// <summary>S/F up to 235: P/F is likely up to 200 Torr.</summary>
    UpTo235,
}

/// <summary>P/F (arterial oxygen pressure in Torr over inhaled fraction) and S/F (SpO2 in percent over inhaled fraction).</summary>
/// <remarks>
/// Rice et al., Chest 2007;132:410: S/F = 64 + 0.84·P/F (r 0.89), 2613 pairs with SpO2 ≤ 97 %. Cut points 235 for P/F 200 (sensitivity and
/// specificity 85 and 85 %) and 315 for P/F 300 (91 and 56 %). The trap: these are not the equation rounded, which gives 232 and
/// 316; neither may be computed from the other. Not a diagnosis: a band is no more than a likely P/F.
/// </remarks>
public static class OxygenationRatios
{
    /// <summary>The published S/F cut point for P/F 200 Torr.</summary>
    public const double CutPointFor200 = 235;

    /// <summary>The published S/F cut point for P/F 300 Torr.</summary>
    public const double CutPointFor300 = 315;

    /// <returns>In Torr, or why there is none: not known, or less inhaled oxygen than in air.</returns>
    public static Answer<double> PressureOverInhaled(GasPressure arterialOxygen, InhaledOxygen inhaled)
    {
        if (!(arterialOxygen.Torr > 0) || double.IsInfinity(arterialOxygen.Torr)) return Answer.None<double>($"arterial oxygen pressure is {arterialOxygen}; expected above 0 Torr");
        return inhaled.WhyNoIndex() is { } why ? Answer.None<double>(why) : Answer.Of(arterialOxygen.Torr / inhaled.Fraction);
    }

    /// <returns>The ratio, or why there is none: no reading, SpO2 above 97 %, inhaled oxygen not known or less than in air.</returns>
    public static Answer<double> SaturationOverInhaled(Percent spO2, InhaledOxygen inhaled) =>
        (UsableReading.WhyNoRatio(spO2) ?? inhaled.WhyNoIndex()) is { } why ? Answer.None<double>(why) : Answer.Of((double)spO2.Value / inhaled.Fraction);

    /// <summary>The S/F that the equation expects at a P/F.</summary>
    /// <returns>NaN for NaN.</returns>
    public static double SaturationRatioAt(double pressureRatio) => 64 + 0.84 * pressureRatio;

    /// <summary>The P/F that the equation expects at an S/F: its inverse, which is not the regression of P/F on S/F.</summary>
    /// <returns>In Torr, or why there is none: an S/F up to 64, where the line has no P/F left, or NaN.</returns>
    public static Answer<double> PressureRatioAt(double saturationRatio) => saturationRatio > 64 && double.IsFinite(saturationRatio)
        ? Answer.Of((saturationRatio - 64) / 0.84)
        : Answer.None<double>($"S/F is {saturationRatio:0.###}; the equation has no P/F up to 64");

    /// <summary>By the published cut points. That a value on a cut point belongs below it is our own reading.</summary>
    /// <exception cref="ArgumentOutOfRangeException">NaN, or not above zero.</exception>
    public static RiceBand Band(double saturationRatio)
    {
        if (!(saturationRatio > 0)) throw new ArgumentOutOfRangeException(nameof(saturationRatio), $"S/F is {saturationRatio}; expected above 0.");
        if (saturationRatio <= CutPointFor200) return RiceBand.UpTo235;
        return saturationRatio <= CutPointFor300 ? RiceBand.UpTo315 : RiceBand.Above315;
    }
}
