namespace Stillwatch.Rehearsal.Patients;

/// <summary>The truth about an invented patient in one second.</summary>
/// <param name="ArterialSaturationPercent">Of the blood leaving the heart.</param>
/// <param name="SiteSaturationPercent">Of the arterial blood under the sensor, a circulation time later and smoothed on its way.</param>
/// <param name="VenousSaturationPercent">Of the venous blood under the sensor.</param>
/// <param name="PulseRatePerMinute">Mean rate of the second.</param>
/// <param name="RespiratoryRatePerMinute">Breaths that are tried.</param>
/// <param name="BreathDepth">1 is the patient's usual breath, 0 none moves air (apnoea, central or obstructive).</param>
/// <param name="BreathEffort">1 is the patient's usual effort; above BreathDepth in an obstruction.</param>
/// <param name="PerfusionPercent">Pulse amplitude over mean infrared light at the site, trough to peak, × 100.</param>
/// <param name="AlveolarOxygenTorr">Mean partial pressure in the alveoli.</param>
/// <param name="ArterialCarbonDioxideTorr">In arterial blood.</param>
public readonly record struct PatientMoment(
    double ArterialSaturationPercent,
    double SiteSaturationPercent,
    double VenousSaturationPercent,
    double PulseRatePerMinute,
    double RespiratoryRatePerMinute,
    double BreathDepth,
    double BreathEffort,
    double PerfusionPercent,
    double AlveolarOxygenTorr,
    double ArterialCarbonDioxideTorr);
