namespace Stillwatch.Oxygenation.Dissociation;

/// <summary>
/// The standard dissociation curve of adult blood at 37 °C, pH 7.40, as Severinghaus fitted it: within 0.55 % of the standard
/// curve's 51 points, the largest error at 150 Torr.
/// </summary>
/// <remarks>
/// Severinghaus, J Appl Physiol 1979;46(3):599–602 (doi 10.1152/jappl.1979.46.3.599), equations 1 to 4. For other temperature,
/// pH or carbon dioxide, feed it the <see cref="BloodConditions.VirtualOxygen"/>. Not for foetal or abnormal haemoglobin.
/// </remarks>
public static class SeveringhausCurve
{
    /// <summary>Equation 1: S = 1/(23400/(P³ + 150·P) + 1).</summary>
    /// <returns>0 at 0 Torr, rising to 1; NaN for NaN or a pressure below zero.</returns>
    public static Saturation SaturationAt(GasPressure oxygen)
    {
        double p = oxygen.Torr;
        if (!(p >= 0)) return Saturation.FromFraction(double.NaN);
        double cubic = p * (p * p + 150);
        // Not the printed form, which divides by zero at 0 Torr; at an infinite pressure all is bound.
        return Saturation.FromFraction(double.IsInfinity(cubic) ? 1 : cubic / (cubic + 23_400));
    }

    /// <summary>The exact inverse of equation 1: the one real root of P³ + 150·P = 23400·S/(1 − S).</summary>
    /// <remarks>
    /// Ellis 1989 (J Appl Physiol 67:902, page from memory; the start of the formula from a secondary copy) writes the root as a sum
    /// of two cube roots, which cancel near zero. The same root is written here as a hyperbolic sine, which does not.
    /// Near full saturation the curve is flat: above about 97 % the pressure says more about rounding than about the patient.
    /// </remarks>
    /// <returns>0 at 0; infinite at full saturation; NaN for NaN or a fraction outside 0 to 1.</returns>
    public static GasPressure PressureAt(Saturation saturation)
    {
        double s = saturation.Fraction;
        if (!(s is >= 0 and <= 1)) return GasPressure.FromTorr(double.NaN);
        double half = 11_700 * s / (1 - s);
        return GasPressure.FromTorr(2 * RootOf50 * Math.Sinh(Math.Asinh(half / (50 * RootOf50)) / 3));
    }

    /// <summary>Equation 2, the approximate inverse as published: ln P = 0.385·ln(1/(1/S − 1)) + 3.32 − 1/(72·S) − S⁶/6.</summary>
    /// <remarks>
    /// The abstract prints 0.17·S⁶; S⁶/6 is what reproduces third-party values to seven digits. It differs from
    /// <see cref="PressureAt"/> by up to 1.2 % of the pressure between 10 and 98 % saturation; kept to compare with others who use it.
    /// </remarks>
    /// <returns>NaN for NaN, or a fraction not strictly between 0 and 1.</returns>
    public static GasPressure PressureByEquation2(Saturation saturation)
    {
        double s = saturation.Fraction;
        if (!(s is > 0 and < 1)) return GasPressure.FromTorr(double.NaN);
        double sixth = s * s * s * s * s * s;
        return GasPressure.FromTorr(Math.Exp(0.385 * Math.Log(s / (1 - s)) + 3.32 - 1 / (72 * s) - sixth / 6));
    }

    /// <summary>Equation 3: by how much ln P rises per °C at constant content: 0.058/((0.243·P/100)^3.88 + 1) + 0.013.</summary>
    /// <returns>Per °C; NaN for NaN or a pressure below zero.</returns>
    public static double LogPressurePerDegree(GasPressure oxygen) =>
        oxygen.Torr >= 0 ? 0.058 / (Math.Pow(0.243 * oxygen.Torr / 100, 3.88) + 1) + 0.013 : double.NaN;

    /// <summary>Equation 4, the Bohr effect: by how much ln P changes per unit of pH: (P/26.6)^0.184 − 2.2.</summary>
    /// <remarks>The exponent is lost in the typography of the abstract and restored here.</remarks>
    /// <returns>Per pH, negative up to about 1900 Torr; NaN for NaN or a pressure below zero.</returns>
    public static double LogPressurePerPH(GasPressure oxygen) =>
        oxygen.Torr >= 0 ? Math.Pow(oxygen.Torr / 26.6, 0.184) - 2.2 : double.NaN;

    private static readonly double RootOf50 = Math.Sqrt(50);
}
