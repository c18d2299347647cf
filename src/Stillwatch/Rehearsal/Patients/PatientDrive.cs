namespace Stillwatch.Rehearsal.Patients;

/// <summary>What is done to an invented patient, and what the patient does, in one second.</summary>
/// <param name="BreathsPerMinute">Breaths that are tried.</param>
/// <param name="BreathDepth">1 the usual breath; 0 moves no air.</param>
/// <param name="BreathEffort">1 the usual effort; above the depth where the way is narrow or shut.</param>
/// <param name="InhaledOxygenFraction">0.21 is air.</param>
/// <param name="ShuntFraction">The part of the blood that passes the lungs without meeting gas; stands for every mismatch.</param>
/// <param name="DeadSpaceFactor">1 the usual dead space.</param>
/// <param name="OxygenUseFactor">1 the usual use of oxygen; carbon dioxide follows.</param>
/// <param name="PulseOffsetPerMinute">Added to the pulse rate: waking, pain, a vagal answer.</param>
/// <param name="PerfusionFactor">1 the usual pulse amplitude at the site.</param>
public readonly record struct PatientDrive(
    double BreathsPerMinute,
    double BreathDepth,
    double BreathEffort,
    double InhaledOxygenFraction,
    double ShuntFraction,
    double DeadSpaceFactor,
    double OxygenUseFactor,
    double PulseOffsetPerMinute,
    double PerfusionFactor)
{
    public const double Air = 0.21;

    /// <summary>Usual breathing of air, with the small shunt of healthy lungs (3 %, from memory).</summary>
    public static PatientDrive Usual(PatientParameters patient) => new(patient.UsualBreathsPerMinute, 1, 1, Air, 0.03, 1, 1, 0, 1);
}
