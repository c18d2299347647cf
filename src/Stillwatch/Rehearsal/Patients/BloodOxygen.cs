using Stillwatch.Oxygenation.Dissociation;

namespace Stillwatch.Rehearsal.Patients;

/// <summary>Oxygen in one patient's blood: from pressure to content and back, moved by P50 and carbon dioxide.</summary>
/// <remarks>
/// Content = k·Hb·S + 0.003·PO2, mL/dL, k 1.34 (secondary copy); S is Severinghaus' equation 1 at the virtual pressure times 26.86 over the
/// patient's P50. The shape of the adult curve is used for foetal haemoglobin too: a simplification of the rehearsal.
/// Acute carbon dioxide moves pH by 0.008 for each Torr (from memory).
/// </remarks>
internal sealed class BloodOxygen(PatientParameters patient)
{
    private const double StandardHalfSaturationTorr = 26.857; // where equation 1 gives 0.5
    private const double DissolvedPerTorr = 0.003 / 100; // mL in a mL of blood
    private readonly double boundAtFull = 1.34 * patient.HaemoglobinGramsPerDl / 100; // mL in a mL of blood

    /// <summary>What to multiply a pressure with before the standard curve is read.</summary>
    public double ShiftAt(double carbonDioxideTorr)
    {
        double ph = Math.Clamp(patient.UsualPH - 0.008 * (carbonDioxideTorr - patient.UsualCarbonDioxideTorr), 6.8, 7.8);
        var conditions = new BloodConditions(37, ph, GasPressure.FromTorr(Math.Clamp(carbonDioxideTorr, 10, 150)));
        return conditions.VirtualOxygen(GasPressure.FromTorr(1)).Value.Torr * StandardHalfSaturationTorr / patient.HalfSaturationTorr;
    }

    public static double Saturation(double oxygenTorr, double shift) =>
        SeveringhausCurve.SaturationAt(GasPressure.FromTorr(Math.Max(0, oxygenTorr) * shift)).Fraction;

    /// <summary>mL of oxygen in a mL of blood.</summary>
    public double Content(double oxygenTorr, double shift) =>
        boundAtFull * Saturation(oxygenTorr, shift) + DissolvedPerTorr * Math.Max(0, oxygenTorr);

    /// <summary>The pressure at which blood holds this much; bisected, so that the flat and the steep part are found alike.</summary>
    public double PressureAt(double content, double shift)
    {
        double low = 0, high = 100;
        while (Content(high, shift) < content && high < 1000) high *= 2;
        for (int i = 0; i < 40; i++)
        {
            double middle = (low + high) / 2;
            if (Content(middle, shift) < content) low = middle;
            else high = middle;
        }

        return (low + high) / 2;
    }

    /// <summary>The saturation of blood that holds this much.</summary>
    public double SaturationOf(double content, double shift) => Saturation(PressureAt(content, shift), shift);
}
