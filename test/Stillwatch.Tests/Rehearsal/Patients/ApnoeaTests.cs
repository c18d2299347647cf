using Stillwatch.Rehearsal;
using Stillwatch.Rehearsal.Patients;

namespace Stillwatch.Tests.Rehearsal.Patients;

/// <summary>How fast the stores run out. Times of the table are plausibility ranges from memory, after the usual teaching figures; no single paper was read.</summary>
public sealed class ApnoeaTests
{
    // who | inhaled oxygen | seconds until the true saturation under the sensor is below 90 %
    // "About 8 min for a preoxygenated adult, about 4 for a small child": figures of the kind of Benumof 1997, from memory.
    private const string UntilBelow90 = """
        adult   | 0.21 |  50 -  90
        adult   | 0.90 | 390 - 560
        child   | 0.21 |  22 -  45
        child   | 0.90 | 160 - 260
        preterm | 0.21 |   8 -  30
        preterm | 0.30 |  20 -  60
        """;

    [Fact]
    public void Apnoea_takes_the_saturation_below_90_percent_in_the_time_that_is_taught()
    {
        foreach (var cells in UntilBelow90.Split('\n').Select(line => line.Split(['|', '-'], StringSplitOptions.TrimEntries)))
        {
            var patient = cells[0] switch { "adult" => PatientParameters.Adult, "child" => PatientParameters.Child, _ => PatientParameters.Preterm };
            var moments = InventedKinds.Apnoea(patient, double.Parse(cells[1]), 60, 900);
            int seconds = InventedKinds.SecondsUntil(moments, 60, m => m.SiteSaturationPercent < 90);
            Assert.True(seconds >= int.Parse(cells[2]) && seconds <= int.Parse(cells[3]), $"{cells[0]} on {cells[1]}: {seconds} s");
        }
    }

    [Fact]
    public void The_smaller_the_lungs_beside_the_use_of_oxygen_the_faster_the_fall()
    {
        var byReserve = InventedKinds.All.OrderBy(p => p.LungVolumeMl / p.OxygenUseMlPerMinute).ToList();
        Assert.Same(PatientParameters.Preterm, byReserve[0]);
        Assert.Same(PatientParameters.Adult, byReserve[^1]);
        var times = byReserve.Select(p => InventedKinds.SecondsUntil(InventedKinds.Apnoea(p, 0.4, 60, 600), 60, m => m.ArterialSaturationPercent < 85)).ToList();
        Assert.Equal(times.Order(), times);
        Assert.True(times[^1] > 2 * times[0], string.Join(", ", times));

        var roomy = PatientParameters.Adult with { LungVolumeMl = PatientParameters.Adult.LungVolumeMl * 1.5 };
        Assert.True(InventedKinds.SecondsUntil(InventedKinds.Apnoea(roomy, 0.4, 60, 900), 60, m => m.ArterialSaturationPercent < 85) > times[^1] * 1.3);
    }

    [Fact]
    public void Carbon_dioxide_leaps_in_the_first_minute_of_apnoea_and_then_climbs_steadily()
    {
        // From memory: 8–16 Torr in the first minute (the step to venous blood first), 3–4 Torr a minute afterwards.
        var moments = InventedKinds.Apnoea(PatientParameters.Adult, 1.0, 60, 360);
        double At(int minute) => moments[59 + 60 * minute].ArterialCarbonDioxideTorr;
        Assert.InRange(At(1) - At(0), 6, 16);
        for (int minute = 2; minute <= 6; minute++) Assert.InRange(At(minute) - At(minute - 1), 2.5, 4.5);
    }

    [Fact]
    public void Slow_breathing_raises_carbon_dioxide_over_many_minutes()
    {
        // From memory: half of the change after about 16 minutes when ventilation is halved; the body's stores are large.
        var patient = InventedKinds.Steady(PatientParameters.Adult);
        var usual = PatientDrive.Usual(patient);
        var half = usual with { BreathsPerMinute = usual.BreathsPerMinute / 2, InhaledOxygenFraction = 0.5 };
        var moments = InventedPatient.Live(patient, [.. Enumerable.Repeat(usual, 60), .. Enumerable.Repeat(half, 4 * 3600)], new SeededRandom(1));
        double start = moments[59].ArterialCarbonDioxideTorr, end = moments[^1].ArterialCarbonDioxideTorr;
        Assert.Equal(80, end, 1.0);
        Assert.InRange(InventedKinds.SecondsUntil(moments, 60, m => m.ArterialCarbonDioxideTorr > (start + end) / 2) / 60.0, 10, 22);
    }

    [Fact]
    public void The_lowest_number_comes_after_the_first_new_breath_and_the_rise_is_faster_than_the_fall()
    {
        foreach (var patient in InventedKinds.All)
        {
            int pause = patient == PatientParameters.Adult ? 60 : 25;
            var moments = InventedKinds.Apnoea(patient, 0.21, 60, pause, 180);
            int lowest = Enumerable.Range(0, moments.Count).MinBy(t => moments[t].SiteSaturationPercent);
            int breathes = 60 + pause;
            Assert.InRange(lowest - breathes, (int)patient.SiteDelaySeconds - 2, (int)(patient.SiteDelaySeconds + 3 * patient.SiteSmoothingSeconds) + 2);
            double before = moments[59].SiteSaturationPercent, nadir = moments[lowest].SiteSaturationPercent, middle = (before + nadir) / 2;
            int fell = lowest - Enumerable.Range(60, lowest - 60).First(t => moments[t].SiteSaturationPercent < middle);
            int rose = InventedKinds.SecondsUntil(moments, lowest, m => m.SiteSaturationPercent > middle);
            Assert.True(rose <= fell + 2, $"{patient.WeightKg} kg: fell {fell} s, rose {rose} s");
            Assert.InRange(InventedKinds.SecondsUntil(moments, breathes, m => m.SiteSaturationPercent > before - 2 && m.ArterialSaturationPercent > before - 2), 1, 110);
        }
    }

    [Fact]
    public void Blood_takes_its_time_to_the_sensor_less_to_a_neonates_than_to_an_adults_finger()
    {
        // From memory: 20–30 s to an adult's finger, less to an ear and in neonates.
        Assert.InRange(Lag(PatientParameters.Adult), 20, 30);
        Assert.InRange(Lag(PatientParameters.Preterm), 4, 12);
        Assert.True(Lag(PatientParameters.Child) < Lag(PatientParameters.Adult));

        static int Lag(PatientParameters patient)
        {
            var moments = InventedKinds.Apnoea(patient, 0.21, 60, 150);
            double half = (moments[59].ArterialSaturationPercent + 60) / 2;
            return InventedKinds.SecondsUntil(moments, 60, m => m.SiteSaturationPercent < half) - InventedKinds.SecondsUntil(moments, 60, m => m.ArterialSaturationPercent < half);
        }
    }
}
