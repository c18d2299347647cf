using MathNet.Numerics.RootFinding;
using Stillwatch.Oxygenation.Dissociation;
using Stillwatch.Oxygenation.Indices;

namespace Stillwatch.Rehearsal.Patients;

/// <summary>Oxygen in one patient's blood: from pressure to content and back, moved by P50 and carbon dioxide.</summary>
/// <remarks>
/// Content by <see cref="OxygenContent"/> with 1.34 mL for each gram; S is Severinghaus' equation 1 at the virtual pressure times 26.86 over the
/// patient's P50. The shape of the adult curve is used for foetal haemoglobin too: a simplification of the rehearsal.
/// Acute carbon dioxide moves pH by 0.008 for each Torr (from memory).
/// </remarks>
internal sealed class BloodOxygen(PatientParameters patient)
{
    private const double StandardHalfSaturationTorr = 26.857; // where equation 1 gives 0.5
    private const double MostTorr = 1000; // more than lungs can hold

    /// <summary>What to multiply a pressure with before the standard curve is read.</summary>
    public double ShiftAt(double carbonDioxideTorr)
    {
        double ph = Math.Clamp(patient.UsualPH - 0.008 * (carbonDioxideTorr - patient.UsualCarbonDioxideTorr), 6.8, 7.8);
        var conditions = new BloodConditions(37, ph, GasPressure.FromTorr(Math.Clamp(carbonDioxideTorr, 10, 150)));
        return conditions.VirtualOxygen(GasPressure.FromTorr(1)).Value.Torr * StandardHalfSaturationTorr / patient.HalfSaturationTorr;
    }

    public static Saturation SaturationAt(double oxygenTorr, double shift) => SeveringhausCurve.SaturationAt(GasPressure.FromTorr(Math.Max(0, oxygenTorr) * shift));

    /// <summary>mL of oxygen in a mL of blood.</summary>
    public double Content(double oxygenTorr, double shift) => OxygenContent.MillilitresPerDecilitre(
        patient.HaemoglobinGramsPerDl, SaturationAt(oxygenTorr, shift), GasPressure.FromTorr(Math.Max(0, oxygenTorr)), OxygenContent.Binding134).Value / 100;

    /// <summary>The pressure at which blood holds this much, to 10⁻⁶ Torr; content rises with pressure, so there is one.</summary>
    public double PressureAt(double content, double shift)
    {
        double high = 100;
        while (Content(high, shift) < content && high < MostTorr) high *= 2;
        return Brent.TryFindRoot(torr => Content(torr, shift) - content, 0, high, 1e-6, 100, out double root) ? root : content <= 0 ? 0 : high;
    }

    /// <summary>The saturation of blood that holds this much.</summary>
    public double SaturationOf(double content, double shift) => SaturationAt(PressureAt(content, shift), shift).Fraction;
}
