using Stillwatch.Oxygenation.Dissociation;
using Stillwatch.Quantities;

namespace Stillwatch.Oxygenation.Indices;

/// <summary>
/// How much airway pressure and oxygen a ventilated child needs for the oxygen it has: OI = FiO2·MAP·100/PaO2, or without a blood
/// sample OSI = FiO2·MAP·100/SpO2. MAP is mean airway pressure in cm H2O, PaO2 in Torr, SpO2 in percent.
/// </summary>
/// <remarks>Formulas and bands of 2015 from a secondary copy; see <see cref="SeverityBands"/>.</remarks>
public static class OxygenationIndex
{
    /// <returns>OI, or why there is none.</returns>
    public static Answer<double> FromPressure(InhaledOxygen inhaled, double meanAirwayPressureCmH2O, GasPressure arterialOxygen)
    {
        if (!(arterialOxygen.Torr > 0) || double.IsInfinity(arterialOxygen.Torr)) return Answer.None<double>($"arterial oxygen pressure is {arterialOxygen}; expected above 0 Torr");
        return Of(inhaled, meanAirwayPressureCmH2O, arterialOxygen.Torr);
    }

    /// <returns>OSI, or why there is none; SpO2 above 97 % is refused, as for every ratio of this sort.</returns>
    public static Answer<double> FromSaturation(InhaledOxygen inhaled, double meanAirwayPressureCmH2O, Percent spO2) =>
        UsableReading.WhyNoRatio(spO2) is { } why ? Answer.None<double>(why) : Of(inhaled, meanAirwayPressureCmH2O, (double)spO2.Value);

    private static Answer<double> Of(InhaledOxygen inhaled, double meanAirwayPressureCmH2O, double oxygen)
    {
        if (inhaled.WhyNoIndex() is { } why) return Answer.None<double>(why);
        return meanAirwayPressureCmH2O is > 0 and <= 80
            ? Answer.Of(inhaled.Fraction * meanAirwayPressureCmH2O * 100 / oxygen)
            : Answer.None<double>($"mean airway pressure is {meanAirwayPressureCmH2O:0.#} cm H2O; expected above 0 and up to 80");
    }
}
