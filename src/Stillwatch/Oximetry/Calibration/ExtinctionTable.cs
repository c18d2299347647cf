namespace Stillwatch.Oximetry.Calibration;

/// <summary>
/// Molar extinction of oxygenated and deoxygenated haemoglobin at one wavelength: decadic, cm⁻¹ per mol/L of the tetramer. Absorption of
/// other haemoglobins (carboxy-, met-) is not in it, and they mislead every two-wavelength reading.
/// </summary>
/// <param name="Nanometres">Wavelength.</param>
/// <param name="Oxygenated">HbO2.</param>
/// <param name="Deoxygenated">Hb.</param>
public readonly record struct Extinction(double Nanometres, double Oxygenated, double Deoxygenated)
{
    /// <summary>Molar mass of the tetramer that goes with tables A and B, g/mol (the page of table B; another page of its author uses 64 500).</summary>
    public const double MolarMassGramPerMol = 66_500;

    /// <summary>ln 10 as the source of the conversion rounds it.</summary>
    private const double DecadicToNatural = 2.303;

    /// <summary>Extinction of blood that is oxygenated in part.</summary>
    /// <param name="fraction">Saturation, 0 to 1.</param>
    public double At(double fraction) => fraction * Oxygenated + (1 - fraction) * Deoxygenated;

    /// <summary>
    /// Absorption coefficient of whole blood in cm⁻¹, natural: 2.303 · e · g/L / (g/mol) (http://omlc.org/spectra/hemoglobin/moaveni.html).
    /// </summary>
    /// <param name="fraction">Saturation, 0 to 1.</param>
    /// <param name="haemoglobinGramPerLitre">150 is typical of whole blood (same page).</param>
    /// <param name="molarMassGramPerMol">Differs between sources, hence given; see <see cref="MolarMassGramPerMol"/>.</param>
    public double AbsorptionPerCentimetre(double fraction, double haemoglobinGramPerLitre, double molarMassGramPerMol) =>
        DecadicToNatural * At(fraction) * haemoglobinGramPerLitre / molarMassGramPerMol;
}

/// <summary>A published table of extinctions at the wavelengths that pulse oximetry uses.</summary>
public sealed class ExtinctionTable
{
    private ExtinctionTable(string letter, string source, params Extinction[] rows)
    {
        Letter = letter;
        Source = source;
        Rows = rows;
    }

    /// <summary>Compilation by S. Prahl (OMLC) from data of Gratzer and of Kollias; secondary copies, which agree.</summary>
    public static ExtinctionTable A { get; } = new(
        "A",
        "table A: compilation by S. Prahl (Oregon Medical Laser Center) from Gratzer's and Kollias's data, secondary copy",
        new(650, 368, 3750.12),      // table A, secondary copy
        new(660, 319.6, 3226.56),    // table A, secondary copy
        new(670, 294, 2795.12),      // table A, secondary copy
        new(850, 1058, 691.32),      // table A, secondary copy
        new(900, 1198, 761.84),      // table A, secondary copy
        new(904, 1206, 767.44),      // table A, secondary copy
        new(905, 1207.6, 768.62),    // linear between 904 and 906
        new(906, 1209.2, 769.80),    // table A, secondary copy
        new(910, 1214, 774.56),      // table A, secondary copy
        new(940, 1214, 693.44),      // table A, secondary copy
        new(950, 1204, 602.24));     // table A, secondary copy

    /// <summary>
    /// Data of Moaveni and Schmitt as given by S. Prahl (OMLC). Seven published sets compared on 57 blood samples differed significantly, and
    /// this one was judged best (Zhao et al., Biomed Opt Express 2017;8:5151).
    /// </summary>
    public static ExtinctionTable B { get; } = new(
        "B",
        "table B: Moaveni's and Schmitt's data, given by S. Prahl (http://omlc.org/spectra/hemoglobin/moaveni.html)",
        new(650, 380, 3420),    // table B, the page itself
        new(660, 320, 3200),    // table B, the page itself
        new(670, 320, 3080),    // table B, the page itself
        new(850, 1060, 800),    // table B, the page itself
        new(900, 1200, 880),    // table B, the page itself
        new(905, 1210, 900),    // linear between 900 and 910
        new(910, 1220, 920),    // table B, the page itself
        new(940, 1200, 800),    // table B, the page itself
        new(950, 1200, 720));   // table B, the page itself

    /// <summary>A or B.</summary>
    public string Letter { get; }

    public string Source { get; }

    /// <summary>In order of wavelength.</summary>
    public IReadOnlyList<Extinction> Rows { get; }

    /// <exception cref="ArgumentOutOfRangeException">The table has no row for that wavelength; nothing is interpolated.</exception>
    public Extinction At(double nanometres)
    {
        foreach (var row in Rows)
            if (row.Nanometres == nanometres) return row;
        throw new ArgumentOutOfRangeException(nameof(nanometres), nanometres,
            $"Found {nanometres} nm, expected one of {string.Join(", ", Rows.Select(r => r.Nanometres))} nm in extinction table {Letter}.");
    }
}
