using CsCheck;
using Stillwatch.Oximetry;
using Stillwatch.Oximetry.Calibration;
using Stillwatch.Tests.Alarms;
using Stillwatch.Tests.Oximetry.Stream;
using Stillwatch.Time;

namespace Stillwatch.Tests.Oximetry.Curves;

/// <summary>Ratios and saturations against published coefficients; every row's numbers are arithmetic from the tables named beside the curves.</summary>
public sealed class CalibrationCurveTests
{
    // R | table A 660/940 | A 660/905 | B 660/940 | B 660/905 | 110 − 25·R. Two decimals, arithmetic from the two published tables
    // (A: compilation by Prahl, secondary copy; B: http://omlc.org/spectra/hemoglobin/moaveni.html) by the two-species formula and from the
    // linear textbook form (both https://chatppg.com/algorithms/spo2-ratio-of-ratios, secondary copy).
    private const string SaturationFromRatio = """
        0.4 | 94.67 | 94.70 | 94.74 | 94.54 | 100.0
        0.5 | 90.93 | 90.91 | 90.91 | 90.61 | 97.5
        0.6 | 87.30 | 87.23 | 87.18 | 86.76 | 95.0
        0.7 | 83.79 | 83.64 | 83.54 | 82.98 | 92.5
        0.8 | 80.39 | 80.16 | 80.00 | 79.28 | 90.0
        0.9 | 77.10 | 76.76 | 76.54 | 75.66 | 87.5
        1.0 | 73.91 | 73.46 | 73.17 | 72.10 | 85.0
        1.5 | 59.29 | 58.16 | 57.47 | 55.31 | 72.5
        2.0 | 46.60 | 44.63 | 43.48 | 40.00 | 60.0
        """;

    // S % | R by A 660/940 | A 660/905 | B 660/940 | B 660/905: four decimals, from the same tables by the inverse formula.
    private const string RatioFromSaturation = """
        100 | 0.2633 | 0.2647 | 0.2667 | 0.2645
        97  | 0.3395 | 0.3406 | 0.3421 | 0.3385
        95  | 0.3914 | 0.3921 | 0.3932 | 0.3884
        90  | 0.5252 | 0.5244 | 0.5241 | 0.5157
        85  | 0.6652 | 0.6618 | 0.6596 | 0.6463
        80  | 0.8118 | 0.8046 | 0.8000 | 0.7805
        70  | 1.1265 | 1.1076 | 1.0963 | 1.0600
        50  | 1.8591 | 1.7944 | 1.7600 | 1.6682
        0   | 4.6530 | 4.1979 | 4.0000 | 3.5556
        """;

    // R | 110 − 25·R, kept within 0 to 100 (textbook approximation, secondary copy; the rest is arithmetic)
    private const string LinearRows = """
        0.1 | 100
        0.4 | 100
        0.5 | 97.5
        0.6 | 95
        0.7 | 92.5
        0.8 | 90
        0.9 | 87.5
        1.0 | 85
        1.2 | 80
        1.6 | 70
        2.0 | 60
        3.4 | 25
        5.0 | 0
        """;

    private static readonly string[] Theory = ["beer-lambert-a-660-940", "beer-lambert-a-660-905", "beer-lambert-b-660-940", "beer-lambert-b-660-905"];

    [Fact]
    public void A_ratio_reads_as_the_saturation_that_the_published_coefficients_give()
    {
        foreach (double[] row in Rows(SaturationFromRatio))
        {
            for (int i = 0; i < Theory.Length; i++)
                Assert.Equal(row[i + 1], Curve(Theory[i]).SaturationPercent(row[0]), 0.005001);
            Assert.Equal(row[5], Curve("linear").SaturationPercent(row[0]), 1e-9);
        }
    }

    [Fact]
    public void A_saturation_gives_the_ratio_that_the_published_coefficients_give()
    {
        foreach (double[] row in Rows(RatioFromSaturation))
        {
            for (int i = 0; i < Theory.Length; i++)
                Assert.Equal(row[i + 1], Curve(Theory[i]).RatioAt(row[0]), 0.00005001);
        }
    }

    [Fact]
    public void The_linear_curve_is_kept_within_0_and_100()
    {
        foreach (double[] row in Rows(LinearRows)) Assert.Equal(row[1], CalibrationCurve.Linear.SaturationPercent(row[0]), 1e-9);
    }

    [Fact]
    public void Table_B_at_660_and_940_nm_reads_a_ratio_of_0_8_as_exactly_80()
    {
        // (3200 − 0.8·800) / (3200 − 320 + 0.8·(1200 − 800)) = 2560/3200: table B of the page named above.
        Assert.Equal(80.0, Curve("beer-lambert-b-660-940").SaturationPercent(0.8));
        Assert.Equal(0.8, Curve("beer-lambert-b-660-940").RatioAt(80), 1e-15);
    }

    // S | μa in cm⁻¹ at 660 nm, 150 g/L, table A, 66 500 g/mol: arithmetic by http://omlc.org/spectra/hemoglobin/moaveni.html
    [Theory]
    [InlineData(0, 16.76)]
    [InlineData(1, 1.660)]
    public void Blood_absorbs_at_660_nm_what_the_conversion_gives(double saturation, double perCentimetre) =>
        Assert.Equal(perCentimetre, ExtinctionTable.A.At(660).AbsorptionPerCentimetre(saturation, 150, Extinction.MolarMassGramPerMol), 0.005);

    [Fact]
    public void A_smaller_molar_mass_gives_more_absorption_in_inverse_proportion()
    {
        // 64 500 g/mol is what another page of the same author uses (from memory); only the arithmetic is claimed.
        var red = ExtinctionTable.A.At(660);
        Assert.Equal(66_500.0 / 64_500, red.AbsorptionPerCentimetre(0.5, 150, 64_500) / red.AbsorptionPerCentimetre(0.5, 150, 66_500), 1e-12);
    }

    [Fact]
    public void Rows_between_published_wavelengths_are_their_straight_line()
    {
        // A: 904 and 906; B: 900 and 910.
        Assert.Equal((ExtinctionTable.A.At(904).Oxygenated + ExtinctionTable.A.At(906).Oxygenated) / 2, ExtinctionTable.A.At(905).Oxygenated, 1e-9);
        Assert.Equal((ExtinctionTable.A.At(904).Deoxygenated + ExtinctionTable.A.At(906).Deoxygenated) / 2, ExtinctionTable.A.At(905).Deoxygenated, 0.011);
        Assert.Equal((ExtinctionTable.B.At(900).Oxygenated + ExtinctionTable.B.At(910).Oxygenated) / 2, ExtinctionTable.B.At(905).Oxygenated, 1e-9);
        Assert.Equal((ExtinctionTable.B.At(900).Deoxygenated + ExtinctionTable.B.At(910).Deoxygenated) / 2, ExtinctionTable.B.At(905).Deoxygenated, 1e-9);
        var refused = Assert.Throws<ArgumentOutOfRangeException>(() => ExtinctionTable.B.At(904));
        Assert.Contains("expected one of 650, 660", refused.Message);
    }

    [Fact]
    public void Every_curve_falls_and_leads_back_from_saturation_to_ratio() =>
        Gen.Double[0.1, 99.9].Sample(saturation =>
        {
            foreach (var curve in CalibrationCurves.All)
            {
                double ratio = curve.RatioAt(saturation);
                Assert.Equal(saturation, curve.SaturationPercent(ratio), 1e-9);
                Assert.True(curve.SaturationPercent(ratio * 1.0001) < saturation);
            }
        }, iter: Sampling.Cases(500));

    [Fact]
    public void No_curve_makes_a_number_of_nothing()
    {
        foreach (var curve in CalibrationCurves.All)
        {
            foreach (double ratio in (double[])[double.NaN, 0, -0.5, double.NegativeInfinity]) Assert.Equal(double.NaN, curve.SaturationPercent(ratio));
            foreach (double saturation in (double[])[double.NaN, -1, 101]) Assert.Equal(double.NaN, curve.RatioAt(saturation));
            Assert.Equal(0, curve.SaturationPercent(1e300));
            Assert.Equal(0, curve.SaturationPercent(double.PositiveInfinity));
        }
    }

    [Fact]
    public void Curves_are_found_by_name_and_say_their_source_and_range()
    {
        foreach (var curve in CalibrationCurves.All)
        {
            Assert.Same(curve, CalibrationCurves.Find(curve.Name.ToUpperInvariant()));
            Assert.NotEmpty(curve.Source);
            Assert.Contains("R 0.", curve.Range);
            Assert.True(curve.LowestRatio < curve.HighestRatio);
            Assert.True(curve.SaturationPercent(curve.LowestRatio) > curve.SaturationPercent(curve.HighestRatio));
        }

        Assert.Equal(["linear", .. Theory], CalibrationCurves.All.Select(c => c.Name));
        Assert.Null(CalibrationCurves.Find("beer-lambert-c-660-940"));
    }

    // nm | A HbO2 | A Hb | source | B HbO2 | B Hb | source; decadic, 1/(cm·mol/L) of the tetramer, none: the table has no such row
    private const string Extinctions = """
        650 | 368    | 3750.12 | Prahl's compilation, identical secondary copies | 380  | 3420 | http://omlc.org/spectra/hemoglobin/moaveni.html
        660 | 319.6  | 3226.56 | Prahl's compilation, identical secondary copies | 320  | 3200 | http://omlc.org/spectra/hemoglobin/moaveni.html
        670 | 294    | 2795.12 | Prahl's compilation, identical secondary copies | 320  | 3080 | http://omlc.org/spectra/hemoglobin/moaveni.html
        850 | 1058   | 691.32  | Prahl's compilation, identical secondary copies | 1060 | 800  | http://omlc.org/spectra/hemoglobin/moaveni.html
        900 | 1198   | 761.84  | Prahl's compilation, identical secondary copies | 1200 | 880  | http://omlc.org/spectra/hemoglobin/moaveni.html
        904 | 1206   | 767.44  | Prahl's compilation, identical secondary copies | none | none | no row
        905 | 1207.6 | 768.62  | arithmetic: the line from 904 to 906            | 1210 | 900  | arithmetic: the line from 900 to 910
        906 | 1209.2 | 769.80  | Prahl's compilation, identical secondary copies | none | none | no row
        910 | 1214   | 774.56  | Prahl's compilation, identical secondary copies | 1220 | 920  | http://omlc.org/spectra/hemoglobin/moaveni.html
        940 | 1214   | 693.44  | Prahl's compilation, identical secondary copies | 1200 | 800  | http://omlc.org/spectra/hemoglobin/moaveni.html
        950 | 1204   | 602.24  | Prahl's compilation, identical secondary copies | 1200 | 720  | http://omlc.org/spectra/hemoglobin/moaveni.html
        """;

    [Fact]
    public void The_extinctions_are_those_of_the_published_tables_row_by_row()
    {
        var rows = Extinctions.Split('\n').Select(line => line.Split('|', StringSplitOptions.TrimEntries)).ToList();
        foreach (string[] row in rows)
        {
            double at = double.Parse(row[0]);
            Assert.Equal(new Extinction(at, double.Parse(row[1]), double.Parse(row[2])), ExtinctionTable.A.At(at));
            if (row[4] != "none") Assert.Equal(new Extinction(at, double.Parse(row[4]), double.Parse(row[5])), ExtinctionTable.B.At(at));
        }

        Assert.Equal(rows.Count, ExtinctionTable.A.Rows.Count);
        Assert.Equal(rows.Count(r => r[4] != "none"), ExtinctionTable.B.Rows.Count);
    }

    [Fact]
    public void A_quarter_of_the_tetramer_is_what_tables_per_haem_print()
    {
        // Table A at 660 nm, millimolar and per haem: 0.080 and 0.807 L/(mmol·cm); arithmetic. Tables per haem: Zijlstra et al., 2000, whose own numbers are not known here.
        var red = ExtinctionTable.A.At(660);
        Assert.Equal(0.080, red.Oxygenated / 4 / 1000, 0.0005);
        Assert.Equal(0.807, red.Deoxygenated / 4 / 1000, 0.0005);
    }

    [Fact]
    public void The_example_of_two_lights_gives_its_ratio_perfusion_and_saturations()
    {
        // Invented light: red 600 of 50 000, infrared 1500 of 75 000, so R = 0.012 / 0.020 = 0.600; perfusion by the convention pulse over mean light (Lima et al., Crit Care
        // Med 2002;30:1210), of infrared: 2.0 %. Through the whole chain, from samples to numbers.
        const int rateHz = 125;
        var (infrared, red) = (new double[60 * rateHz], new double[60 * rateHz]);
        for (int i = 0; i < infrared.Length; i++)
        {
            double share = i * 1.2 / rateHz % 1;
            double pulse = (share < 0.25 ? 1 - Math.Cos(Math.PI * share / 0.25) : 1 + Math.Cos(Math.PI * (share - 0.25) / 0.75)) / 2; // from 0 to 1, mean one half
            (infrared[i], red[i]) = (75_000 - 1500 * (pulse - 0.5), 50_000 - 600 * (pulse - 0.5));
        }

        foreach (var (name, saturation) in ((string, double)[])[("linear", 95.0), ("beer-lambert-a-660-940", 87.30)])
        {
            var derived = Derivation.Of(PlainLight.RecordingOf(SampleRate.Of(rateHz, 1000), infrared, red), new OximetrySettings { Curve = Curve(name) });
            var middle = derived.Seconds[30];
            Assert.Equal(0.600, middle.RatioOfRatios, 0.002);
            Assert.Equal(2.0, middle.PerfusionPercent, 0.02);
            Assert.Equal(saturation, middle.SpO2Percent, 0.1);
        }
    }

    private static CalibrationCurve Curve(string name) => CalibrationCurves.Find(name) ?? throw new ArgumentException(name);

    private static IEnumerable<double[]> Rows(string table) =>
        table.Split('\n').Select(line => line.Split('|', StringSplitOptions.TrimEntries).Select(double.Parse).ToArray());
}
