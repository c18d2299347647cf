namespace Stillwatch.Oxygenation.Dissociation;

/// <summary>What shifts the dissociation curve.</summary>
/// <param name="TemperatureCelsius">Of the blood.</param>
/// <param name="PH">Of the plasma, at that temperature.</param>
/// <param name="CarbonDioxide">Its partial pressure.</param>
public readonly record struct BloodConditions(double TemperatureCelsius, double PH, GasPressure CarbonDioxide)
{
    /// <summary>37 °C, pH 7.40, 40 Torr: those of the standard curve.</summary>
    public static BloodConditions Standard { get; } = new(37, 7.40, GasPressure.FromTorr(40));

    /// <summary>
    /// The oxygen pressure that would saturate standard blood as much as this pressure saturates this blood:
    /// P·10^(0.024·(37 − T) + 0.40·(pH − 7.40) + 0.06·(log10 40 − log10 PCO2)).
    /// </summary>
    /// <remarks>
    /// Kelman's shift (J Appl Physiol 1966;21:1375, citation from memory; constants from two independent secondary copies that agree).
    /// Its own limits are not published where it was read: 20–43 °C, pH 6.8–7.8 and 10–150 Torr are our own, no source;
    /// beyond them there is no number.
    /// </remarks>
    /// <returns>The virtual pressure, or why there is none: NaN, a pressure below zero or not finite, or conditions beyond those limits.</returns>
    public Answer<GasPressure> VirtualOxygen(GasPressure oxygen)
    {
        if (!(oxygen.Torr >= 0) || double.IsInfinity(oxygen.Torr)) return Answer.None<GasPressure>($"oxygen pressure is {oxygen}; expected 0 Torr or more");
        if (WhyBeyond() is { } why) return Answer.None<GasPressure>(why);
        double shift = 0.024 * (37 - TemperatureCelsius) + 0.40 * (PH - 7.40) + 0.06 * Math.Log10(40 / CarbonDioxide.Torr);
        return Answer.Of(GasPressure.FromTorr(oxygen.Torr * Math.Pow(10, shift)));
    }

    private string? WhyBeyond()
    {
        if (!(TemperatureCelsius is >= 20 and <= 43)) return $"temperature is {TemperatureCelsius:0.##} °C; the shift is used from 20 to 43 °C";
        if (!(PH is >= 6.8 and <= 7.8)) return $"pH is {PH:0.###}; the shift is used from 6.8 to 7.8";
        if (!(CarbonDioxide.Torr is >= 10 and <= 150)) return $"carbon dioxide pressure is {CarbonDioxide}; the shift is used from 10 to 150 Torr: given in kPa, perhaps?";
        return null;
    }
}
