namespace Stillwatch.Oxygenation.Dissociation;

/// <summary>
/// Hill's curve, S = Pⁿ/(Pⁿ + P50ⁿ): the one that is moved by a P50 of one's choice, such as a newborn's. Within 1 %
/// of the standard curve from 18 Torr up; below that too low, by up to 3 %.
/// </summary>
/// <remarks>Standard adult P50 26.6 Torr, n 2.7: from secondary copies.</remarks>
public sealed record HillCurve
{
    /// <exception cref="ArgumentOutOfRangeException">A P50 or an exponent that is not above zero and finite.</exception>
    public HillCurve(GasPressure halfSaturation, double exponent = 2.7)
    {
        if (!(halfSaturation.Torr > 0) || !double.IsFinite(halfSaturation.Torr))
            throw new ArgumentOutOfRangeException(nameof(halfSaturation), $"P50 is {halfSaturation}; expected above 0 Torr.");
        if (!(exponent > 0) || !double.IsFinite(exponent))
            throw new ArgumentOutOfRangeException(nameof(exponent), $"The exponent is {exponent}; expected above 0.");
        HalfSaturation = halfSaturation;
        Exponent = exponent;
    }

    public static HillCurve Adult { get; } = new(GasPressure.FromTorr(26.6));

    /// <summary>P50: the pressure at which half the haemoglobin carries oxygen.</summary>
    public GasPressure HalfSaturation { get; }

    public double Exponent { get; }

    /// <returns>0 at 0 Torr, 1 at an infinite pressure; NaN for NaN or a pressure below zero.</returns>
    public Saturation SaturationAt(GasPressure oxygen) =>
        // As 1/(1 + (P50/P)ⁿ) it overflows nowhere.
        Saturation.FromFraction(oxygen.Torr >= 0 ? 1 / (1 + Math.Pow(HalfSaturation.Torr / oxygen.Torr, Exponent)) : double.NaN);

    /// <returns>0 at 0; infinite at full saturation; NaN for NaN or a fraction outside 0 to 1.</returns>
    public GasPressure PressureAt(Saturation saturation)
    {
        double s = saturation.Fraction;
        return GasPressure.FromTorr(s is >= 0 and <= 1 ? HalfSaturation.Torr * Math.Pow(s / (1 - s), 1 / Exponent) : double.NaN);
    }
}
