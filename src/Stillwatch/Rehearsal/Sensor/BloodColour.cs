namespace Stillwatch.Rehearsal.Sensor;

/// <summary>Which published measurement of haemoglobin the rehearsal's blood is made of.</summary>
public enum BloodTable
{
    /// <summary>Compiled by S. Prahl (OMLC, "Tabulated molar extinction coefficient for hemoglobin in water") from data of Gratzer and of Kollias; secondary copies.</summary>
    GratzerKollias,

    /// <summary>Moaveni's and Schmitt's measurements as printed by S. Prahl, omlc.org/spectra/hemoglobin/moaveni.html.</summary>
    Moaveni,
}

/// <summary>Wavelength of the infrared lamp; the red one is at 660 nm.</summary>
public enum InfraredLamp
{
    At940Nanometres,
    At905Nanometres,
}

/// <summary>
/// How much whole blood of a saturation absorbs at the two lamps: natural-log units of light per cm of blood, linear in the saturation.
/// Adult haemoglobin; no other species, no scattering.
/// </summary>
/// <remarks>
/// Absorption per cm = 2.303 · e · (150 g/L) / (66 500 g/mol), e per tetramer (omlc.org/spectra/hemoglobin/moaveni.html). The numbers stand here again
/// on purpose: what is rehearsed shares nothing with what is tested on it.
/// </remarks>
public readonly struct BloodColour
{
    private const double PerCentimetre = 2.303 * 150 / 66_500; // of e in 1/(cm·mol/L)

    private readonly double redEmpty, redFull, infraredEmpty, infraredFull;

    private BloodColour(double redEmpty, double redFull, double infraredEmpty, double infraredFull)
    {
        this.redEmpty = PerCentimetre * redEmpty;
        this.redFull = PerCentimetre * redFull;
        this.infraredEmpty = PerCentimetre * infraredEmpty;
        this.infraredFull = PerCentimetre * infraredFull;
    }

    public static BloodColour Of(BloodTable table, InfraredLamp lamp) => (table, lamp) switch
    {
        (BloodTable.GratzerKollias, InfraredLamp.At940Nanometres) => new(3226.56, 319.6, 693.44, 1214),
        (BloodTable.GratzerKollias, InfraredLamp.At905Nanometres) => new(3226.56, 319.6, 768.62, 1207.6), // between the rows at 904 and 906
        (BloodTable.Moaveni, InfraredLamp.At940Nanometres) => new(3200, 320, 800, 1200),
        (BloodTable.Moaveni, InfraredLamp.At905Nanometres) => new(3200, 320, 900, 1210), // between the rows at 900 and 910
        _ => throw new ArgumentOutOfRangeException(nameof(table), $"Found {table}, {lamp}; expected a known table and lamp."),
    };

    /// <summary>Of red light, 1/cm.</summary>
    /// <param name="saturation">0 to 1.</param>
    public double Red(double saturation) => redEmpty + (redFull - redEmpty) * saturation;

    /// <summary>Of infrared light, 1/cm.</summary>
    /// <param name="saturation">0 to 1.</param>
    public double Infrared(double saturation) => infraredEmpty + (infraredFull - infraredEmpty) * saturation;
}
