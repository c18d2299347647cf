using Stillwatch.Rehearsal;
using Stillwatch.Rehearsal.Patients;

namespace Stillwatch.Tests.Rehearsal.Patients;

/// <summary>The same balances written down as plainly as possible: tiny steps forward, the curve typed in again, its inverse by walking along it.</summary>
public sealed class PlainTwinTests
{
    /// <summary>Stated tolerance against the twin: 0.05 percentage points of arterial saturation, 0.1 Torr.</summary>
    [Fact]
    public void The_patient_agrees_with_a_plain_twin_of_tiny_steps()
    {
        foreach (var kind in InventedKinds.All)
        {
            // No answer of the heart: flow stays as it is.
            var patient = InventedKinds.Steady(kind) with { PulsePerMinutePerPoint = 0, PulsePerMinutePerTorr = 0 };
            var usual = PatientDrive.Usual(patient) with { InhaledOxygenFraction = 0.25, ShuntFraction = 0.12 };
            PatientDrive[] drives =
            [
                .. Enumerable.Repeat(usual, 20),
                .. Enumerable.Repeat(usual with { BreathDepth = 0 }, 35),
                .. Enumerable.Repeat(usual with { BreathDepth = 1.4, OxygenUseFactor = 1.2 }, 30),
                .. Enumerable.Repeat(usual with { InhaledOxygenFraction = 0.5, DeadSpaceFactor = 1.3, ShuntFraction = 0.3 }, 60),
            ];
            var moments = InventedPatient.Live(patient, drives, new SeededRandom(1));
            var twin = Twin(patient, drives, stepsPerSecond: 500);
            for (int t = 0; t < drives.Length; t++)
            {
                Assert.Equal(twin[t].Saturation * 100, moments[t].ArterialSaturationPercent, 0.05);
                Assert.Equal(twin[t].Alveolar, moments[t].AlveolarOxygenTorr, 0.1);
                Assert.Equal(twin[t].CarbonDioxide, moments[t].ArterialCarbonDioxideTorr, 0.1);
            }
        }
    }

    private static List<(double Saturation, double Alveolar, double CarbonDioxide)> Twin(PatientParameters p, PatientDrive[] drives, int stepsPerSecond)
    {
        // All in mL, seconds and Torr. Begins as the patient does; that beginning is checked by the alveolar gas equation.
        var gas = new GasExchange(p);
        gas.Settle(drives[0], 1);
        double alveolarO2 = gas.Stores.AlveolarOxygenTorr, alveolarCo2 = gas.Stores.AlveolarCarbonDioxideTorr;
        double tissueO2 = gas.Stores.TissueOxygen, venousO2 = gas.Stores.VenousOxygen, tissueCo2 = gas.Stores.TissueCarbonDioxideTorr;
        double flow = p.CardiacOutputMlPerMinute / 60, dt = 1.0 / stepsPerSecond;
        var seconds = new List<(double, double, double)>();
        foreach (var d in drives)
        {
            double breath = p.UsualTidalVolumeMl * d.BreathDepth - p.DeadSpaceMl * d.DeadSpaceFactor;
            double air = breath > 0 ? breath * d.BreathsPerMinute / 60 : 0;
            double used = p.OxygenUseMlPerMinute * d.OxygenUseFactor / 60;
            for (int i = 0; i < stepsPerSecond; i++)
            {
                double shunted = flow * d.ShuntFraction, through = flow - shunted;
                double arterialCo2 = (through * alveolarCo2 + shunted * tissueCo2) / flow;
                double leaving = Content(p, alveolarO2, arterialCo2);
                double arterial = (through * leaving + shunted * venousO2) / flow;
                double intoBlood = through * (leaving - venousO2), outOfBlood = through * 0.0067 * (tissueCo2 - alveolarCo2);
                double intoLungs = air * (d.InhaledOxygenFraction * (p.BarometricTorr - 47) - alveolarO2) / 863;
                double newVenous = venousO2 + dt * flow * (tissueO2 - venousO2) / p.VenousPoolMl;
                tissueO2 += dt * (flow * (arterial - tissueO2) - used) / p.TissueStoreMl;
                alveolarO2 += dt * (intoLungs - intoBlood) * 863 / p.LungVolumeMl;
                tissueCo2 += dt * (used * p.RespiratoryQuotient - outOfBlood) / p.CarbonDioxideStoreMlPerTorr;
                alveolarCo2 += dt * (outOfBlood - air * alveolarCo2 / 863) * 863 / p.LungVolumeMl;
                venousO2 = newVenous;
            }

            double shuntShare = d.ShuntFraction, co2 = (1 - shuntShare) * alveolarCo2 + shuntShare * tissueCo2;
            double content = (1 - shuntShare) * Content(p, alveolarO2, co2) + shuntShare * venousO2;
            double torr = 0;
            while (Content(p, torr, co2) < content) torr += 0.005;
            seconds.Add((Saturation(p, torr, co2), alveolarO2, co2));
        }

        return seconds;
    }

    private static double Content(PatientParameters p, double torr, double co2) => 0.0134 * p.HaemoglobinGramsPerDl * Saturation(p, torr, co2) + 0.00003 * torr;

    private static double Saturation(PatientParameters p, double torr, double co2)
    {
        // Severinghaus 1979 equation 1 at Kelman's virtual pressure, moved by P50 (facts as in BloodOxygen, typed in again).
        double ph = p.UsualPH - 0.008 * (co2 - p.UsualCarbonDioxideTorr);
        double x = torr * 26.857 / p.HalfSaturationTorr * Math.Pow(10, 0.40 * (ph - 7.40) + 0.06 * (Math.Log10(40) - Math.Log10(co2)));
        return x <= 0 ? 0 : 1 / (23400 / (x * x * x + 150 * x) + 1);
    }
}
