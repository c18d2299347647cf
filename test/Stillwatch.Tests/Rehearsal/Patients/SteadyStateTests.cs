using CsCheck;
using Stillwatch.Oxygenation.Dissociation;
using Stillwatch.Oxygenation.Indices;
using Stillwatch.Rehearsal;
using Stillwatch.Rehearsal.Patients;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Rehearsal.Patients;

/// <summary>Where an invented patient settles, and that nothing is lost on the way.</summary>
public sealed class SteadyStateTests
{
    // Alveolar gas equation in its short form, PAO2 = FiO2·(PB − 47) − PaCO2/R with R 0.8: formula from memory, values by arithmetic.
    // inhaled oxygen | barometric, Torr | carbon dioxide, Torr | alveolar oxygen, Torr
    [Theory]
    [InlineData(0.21, 760, 40, 99.73)]
    [InlineData(0.21, 760, 60, 74.73)]
    [InlineData(0.40, 760, 40, 235.2)]
    [InlineData(0.21, 630, 40, 72.43)]
    public void Lungs_settle_where_the_alveolar_gas_equation_says(double inhaled, double barometric, double carbonDioxide, double expected)
    {
        foreach (var kind in InventedKinds.All)
        {
            var patient = kind with { BarometricTorr = barometric, UsualCarbonDioxideTorr = carbonDioxide };
            var drive = PatientDrive.Usual(patient) with { InhaledOxygenFraction = inhaled, ShuntFraction = 0 };
            var gas = new GasExchange(patient);
            gas.Settle(drive, flowFactor: 1);
            Assert.Equal(expected, gas.Stores.AlveolarOxygenTorr, 1e-9);
            Assert.Equal(carbonDioxide, gas.ArterialBlood(drive).CarbonDioxideTorr, 1e-9);

            for (int step = 0; step < 18_000; step++) gas.Advance(drive, 1, 0.1);
            Assert.Equal(expected, gas.Stores.AlveolarOxygenTorr, 1e-6);
        }
    }

    [Fact]
    public void Whatever_is_breathed_lungs_without_shunt_settle_by_the_short_form_of_that_equation() =>
        Gen.Select(InventedKinds.Any, Gen.Double[0.21, 1], Gen.Double[600, 770], Gen.Double[30, 70], Gen.Double[0.7, 1]).Sample((kind, inhaled, barometric, carbonDioxide, quotient) =>
        {
            var patient = kind with { BarometricTorr = barometric, UsualCarbonDioxideTorr = carbonDioxide, RespiratoryQuotient = quotient };
            if (!AlveolarGas.ShortForm(InhaledOxygen.FromFraction(inhaled), GasPressure.FromTorr(barometric), GasPressure.FromTorr(carbonDioxide), quotient).Is(out var expected) || expected.Torr < 25) return;
            var gas = new GasExchange(patient);
            gas.Settle(PatientDrive.Usual(patient) with { InhaledOxygenFraction = inhaled, ShuntFraction = 0 }, flowFactor: 1);
            Assert.Equal(expected.Torr, gas.Stores.AlveolarOxygenTorr, 1e-9);
        }, iter: Sampling.Cases(200));

    [Fact]
    public void From_anywhere_breathing_leads_back_to_the_same_state()
    {
        foreach (var patient in InventedKinds.All)
        {
            var usual = PatientDrive.Usual(patient);
            var gas = new GasExchange(patient);
            gas.Settle(usual with { InhaledOxygenFraction = 0.6, BreathsPerMinute = usual.BreathsPerMinute * 1.5 }, 1);
            double elsewhere = gas.Stores.AlveolarOxygenTorr;
            for (int step = 0; step < 4 * 36_000; step++) gas.Advance(usual, 1, 0.1);
            var settled = new GasExchange(patient);
            settled.Settle(usual, 1);
            Assert.True(elsewhere > settled.Stores.AlveolarOxygenTorr + 100);
            Assert.Equal(settled.Stores.AlveolarOxygenTorr, gas.Stores.AlveolarOxygenTorr, 0.05);
            Assert.Equal(settled.Stores.TissueCarbonDioxideTorr, gas.Stores.TissueCarbonDioxideTorr, 0.05);
            Assert.Equal(settled.Stores.VenousOxygen, gas.Stores.VenousOxygen, 1e-4);
        }
    }

    [Fact]
    public void A_healthy_adult_on_air_has_the_blood_of_a_healthy_adult()
    {
        // From memory, textbook: arterial saturation 95–98 %, mixed venous about 75 %, arterial carbon dioxide 35–45 Torr.
        var moment = InventedPatient.Live(PatientParameters.Adult, [PatientDrive.Usual(PatientParameters.Adult)], new SeededRandom(1))[0];
        Assert.InRange(moment.ArterialSaturationPercent, 95, 98);
        Assert.InRange(moment.ArterialCarbonDioxideTorr, 35, 45);
        var gas = new GasExchange(PatientParameters.Adult);
        gas.Settle(PatientDrive.Usual(PatientParameters.Adult), 1);
        Assert.InRange(gas.Stores.VenousOxygen * 100, 13.5, 16); // mL/dL; about 15, from memory
    }

    [Fact]
    public void Oxygen_taken_in_is_held_or_used_and_never_lost() =>
        Gen.Select(InventedKinds.Any, InventedKinds.Drives(120)).Sample((patient, drives) =>
        {
            var gas = new GasExchange(patient);
            gas.Settle(PatientDrive.Usual(patient), 1);
            double before = gas.OxygenHeldMl;
            foreach (var drive in drives.Select(d => d.Of(patient)))
            {
                for (int step = 0; step < 10; step++) gas.Advance(drive, 1, 0.1);
            }

            Assert.Equal(before + gas.OxygenTakenInMl - gas.OxygenUsedMl, gas.OxygenHeldMl, before * 1e-9);
        }, iter: Sampling.Cases(40));

    [Fact]
    public void A_patient_who_moves_no_air_cannot_begin()
    {
        var still = PatientDrive.Usual(PatientParameters.Adult) with { BreathDepth = 0 };
        var refusal = Assert.Throws<ArgumentException>(() => InventedPatient.Live(PatientParameters.Adult, [still], new SeededRandom(1)));
        Assert.Contains("cannot begin", refusal.Message, StringComparison.Ordinal);
        Assert.Empty(InventedPatient.Live(PatientParameters.Adult, [], new SeededRandom(1)));
    }
}
