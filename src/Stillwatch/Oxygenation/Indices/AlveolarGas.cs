using Stillwatch.Oxygenation.Dissociation;

namespace Stillwatch.Oxygenation.Indices;

/// <summary>The oxygen pressure in the alveoli, from what is breathed and how much carbon dioxide is left.</summary>
/// <remarks>Both forms from memory; they take a steady state, and 47 Torr of water vapour at 37 °C.</remarks>
public static class AlveolarGas
{
    public static readonly GasPressure WaterVapour = GasPressure.FromTorr(47);

    public static readonly GasPressure SeaLevel = GasPressure.FromTorr(760);

    /// <summary>Carbon dioxide given off per oxygen taken up, as usually assumed.</summary>
    public const double UsualExchangeRatio = 0.8;

    /// <summary>FiO2·(PB − 47) − PaCO2/R.</summary>
    /// <returns>The pressure, or why there is none: NaN, a value out of its range, or less than no oxygen.</returns>
    public static Answer<GasPressure> ShortForm(InhaledOxygen inhaled, GasPressure barometric, GasPressure carbonDioxide, double exchangeRatio = UsualExchangeRatio) =>
        Of(inhaled, barometric, carbonDioxide, exchangeRatio, 1 / exchangeRatio);

    /// <summary>FiO2·(PB − 47) − PaCO2·(FiO2 + (1 − FiO2)/R): with the nitrogen that takes the place of the oxygen taken up.</summary>
    /// <inheritdoc cref="ShortForm"/>
    public static Answer<GasPressure> FullForm(InhaledOxygen inhaled, GasPressure barometric, GasPressure carbonDioxide, double exchangeRatio = UsualExchangeRatio) =>
        Of(inhaled, barometric, carbonDioxide, exchangeRatio, inhaled.Fraction + (1 - inhaled.Fraction) / exchangeRatio);

    private static Answer<GasPressure> Of(InhaledOxygen inhaled, GasPressure barometric, GasPressure carbonDioxide, double exchangeRatio, double lostPerCarbonDioxide)
    {
        if (!(inhaled.Fraction > 0)) return Answer.None<GasPressure>("inhaled oxygen is not known");
        if (!(barometric.Torr is > 200 and < 3000)) return Answer.None<GasPressure>($"barometric pressure is {barometric}; expected 200 to 3000 Torr: given in kPa, perhaps?");
        if (!(carbonDioxide.Torr is > 0 and < 200)) return Answer.None<GasPressure>($"carbon dioxide pressure is {carbonDioxide}; expected above 0 and below 200 Torr");
        if (!(exchangeRatio is >= 0.5 and <= 1.5)) return Answer.None<GasPressure>($"exchange ratio is {exchangeRatio:0.###}; expected 0.5 to 1.5");
        double torr = inhaled.Fraction * (barometric.Torr - WaterVapour.Torr) - carbonDioxide.Torr * lostPerCarbonDioxide;
        return torr > 0
            ? Answer.Of(GasPressure.FromTorr(torr))
            : Answer.None<GasPressure>($"no oxygen would be left in the alveoli ({torr:0.#} Torr): these values do not go together");
    }
}
