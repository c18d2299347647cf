namespace Stillwatch.Oxygenation.Dissociation;

/// <summary>The dissociation curve of adult blood as a quotient of two polynomials, with its shift by temperature, pH and carbon dioxide.</summary>
/// <remarks>
/// Kelman, J Appl Physiol 1966;21:1375 (citation from memory; coefficients from secondary copies, three of which agree).
/// Within 2.3 % of the 1979 standard curve from 10 Torr up, within 0.4 % from 42 Torr up. Below about 10 Torr the quotient leaves
/// the curve, and below about 4 Torr it is negative: there is no number there. The upper end is our own, no source: no lungs at sea level hold more.
/// </remarks>
public static class KelmanCurve
{
    public static readonly GasPressure LowestPressure = GasPressure.FromTorr(10);

    public static readonly GasPressure HighestPressure = GasPressure.FromTorr(760);

    /// <returns>The saturation at standard conditions, or why there is none: NaN, or outside 10–760 Torr.</returns>
    public static Answer<Saturation> SaturationAt(GasPressure oxygen) => SaturationAt(oxygen, BloodConditions.Standard);

    /// <returns>The saturation, or why there is none; the range counts for the virtual pressure.</returns>
    public static Answer<Saturation> SaturationAt(GasPressure oxygen, BloodConditions conditions)
    {
        var virtually = conditions.VirtualOxygen(oxygen);
        if (!virtually.HasValue) return Answer.None<Saturation>(virtually.WhyNot);
        double x = virtually.Value.Torr;
        if (x < LowestPressure.Torr) return Answer.None<Saturation>($"virtual oxygen pressure is {x:0.###} Torr; the polynomials hold from {LowestPressure} on");
        if (x > HighestPressure.Torr) return Answer.None<Saturation>($"virtual oxygen pressure is {x:0.###} Torr; used up to {HighestPressure}");
        double above = x * (-8532.2289 + x * (2121.4010 + x * (-67.073989 + x)));
        double below = 935960.87 + x * (-31346.258 + x * (2396.1674 + x * (-67.104406 + x)));
        return Answer.Of(Saturation.FromFraction(above / below));
    }
}
