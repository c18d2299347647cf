using CsCheck;
using Stillwatch.Oxygenation;
using Stillwatch.Oxygenation.Dissociation;
using Stillwatch.Oxygenation.Indices;
using Stillwatch.Quantities;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Physiology;

/// <summary>Oxygen content, alveolar gas, P/F and S/F, ROX, OI and OSI. Rows marked "arithmetic" are computed once, elsewhere, from the formula.</summary>
public sealed class OxygenIndicesTests
{
    // Hb g/dL | S | PO2 Torr | k | mL/dL | source: arithmetic; k 1.34 secondary copy, 1.36 and 1.39 from memory
    [Theory]
    [InlineData("15 | 0.98 | 100 | 1.34 | 19.998")]
    [InlineData("15 | 0.98 | 100 | 1.36 | 20.292")]
    [InlineData("15 | 0.98 | 100 | 1.39 | 20.733")]
    [InlineData("10 | 0.90 | 60 | 1.34 | 12.240")]
    [InlineData("10 | 0.90 | 60 | 1.36 | 12.420")]
    [InlineData("10 | 0.90 | 60 | 1.39 | 12.690")]
    public void Content_is_what_is_bound_and_what_is_dissolved(string row)
    {
        var cells = new Cells(row);
        Assert.Contains(cells.Number(3), new[] { OxygenContent.Binding134, OxygenContent.Binding136, OxygenContent.Binding139 });
        cells.Holds(4, OxygenContent.MillilitresPerDecilitre(cells.Number(0), Saturation.FromFraction(cells.Number(1)), GasPressure.FromTorr(cells.Number(2)), cells.Number(3)).Value);
    }

    // Hb | S | PO2 | k | the reason says
    [Theory]
    [InlineData("150 | 0.98 | 100 | 1.34 | given in g/L, perhaps?")]
    [InlineData("NaN | 0.98 | 100 | 1.34 | haemoglobin is NaN")]
    [InlineData("15 | 98 | 100 | 1.34 | saturation is 9800 %")]
    [InlineData("15 | NaN | 100 | 1.34 | saturation is NaN")]
    [InlineData("15 | 0.98 | -1 | 1.34 | oxygen pressure is -1 Torr")]
    [InlineData("15 | 0.98 | NaN | 1.34 | oxygen pressure is NaN")]
    [InlineData("15 | 0.98 | 100 | 13.4 | binding is 13.4")]
    public void Impossible_blood_has_no_content(string row)
    {
        var cells = new Cells(row);
        Refuses(cells[4], OxygenContent.MillilitresPerDecilitre(cells.Number(0), Saturation.FromFraction(cells.Number(1)), GasPressure.FromTorr(cells.Number(2)), cells.Number(3)));
    }

    // FiO2 | PB Torr | PaCO2 Torr | PAO2 Torr | source: formula from memory, arithmetic
    [Theory]
    [InlineData("0.21 | 760 | 40 | 99.73")]
    [InlineData("0.21 | 760 | 60 | 74.73")]
    [InlineData("0.40 | 760 | 40 | 235.2")]
    [InlineData("0.21 | 630 | 40 | 72.43")]
    public void Alveolar_gas_in_the_short_form(string row)
    {
        var cells = new Cells(row);
        cells.Holds(3, AlveolarGas.ShortForm(InhaledOxygen.FromFraction(cells.Number(0)), GasPressure.FromTorr(cells.Number(1)), GasPressure.FromTorr(cells.Number(2))).Value.Torr);
    }

    [Fact]
    public void Alveolar_gas_in_the_full_form_is_a_little_higher_on_air_and_the_same_on_pure_oxygen_without_nitrogen()
    {
        var carbonDioxide = GasPressure.FromTorr(40);
        Assert.Equal(101.83, AlveolarGas.FullForm(InhaledOxygen.Air, AlveolarGas.SeaLevel, carbonDioxide).Value.Torr, 0.005); // arithmetic
        // On pure oxygen each carbon dioxide takes the place of one oxygen: 713 − 40.
        Assert.Equal(673, AlveolarGas.FullForm(InhaledOxygen.FromFraction(1), AlveolarGas.SeaLevel, carbonDioxide).Value.Torr, 1e-9);
        // With R = 1 both forms are one.
        Assert.Equal(
            AlveolarGas.ShortForm(InhaledOxygen.Air, AlveolarGas.SeaLevel, carbonDioxide, 1).Value.Torr,
            AlveolarGas.FullForm(InhaledOxygen.Air, AlveolarGas.SeaLevel, carbonDioxide, 1).Value.Torr, 1e-9);
    }

    // FiO2 | PB | PaCO2 | R | the reason says
    [Theory]
    [InlineData("NaN | 760 | 40 | 0.8 | inhaled oxygen is not known")]
    [InlineData("0.21 | 101.3 | 40 | 0.8 | given in kPa, perhaps?")]
    [InlineData("0.21 | NaN | 40 | 0.8 | barometric pressure is NaN")]
    [InlineData("0.21 | 760 | 0 | 0.8 | carbon dioxide pressure is 0 Torr")]
    [InlineData("0.21 | 760 | NaN | 0.8 | carbon dioxide pressure is NaN")]
    [InlineData("0.21 | 760 | 40 | 0 | exchange ratio is 0")]
    [InlineData("0.21 | 250 | 60 | 0.8 | these values do not go together")]
    public void Impossible_lungs_have_no_alveolar_gas(string row)
    {
        var cells = new Cells(row);
        var (inhaled, barometric, carbonDioxide) = (InhaledOxygen.FromFraction(cells.Number(0)), GasPressure.FromTorr(cells.Number(1)), GasPressure.FromTorr(cells.Number(2)));
        Refuses(cells[4], AlveolarGas.ShortForm(inhaled, barometric, carbonDioxide, cells.Number(3)));
        Refuses(cells[4], AlveolarGas.FullForm(inhaled, barometric, carbonDioxide, cells.Number(3)));
    }

    // P/F | S/F by the equation, rounded | published cut point | P/F by the equation turned round, at that cut point | source
    [Theory]
    [InlineData("200 | 232 | 235 | 203.6 | Rice et al., Chest 2007;132:410; rounding and inverse are arithmetic")]
    [InlineData("300 | 316 | 315 | 298.8 | the same")]
    public void The_published_cut_points_are_not_the_equation_rounded(string row)
    {
        var cells = new Cells(row);
        cells.Holds(1, OxygenationRatios.SaturationRatioAt(cells.Number(0)));
        Assert.Equal(cells.Number(2), cells.Number(0) == 200 ? OxygenationRatios.CutPointFor200 : OxygenationRatios.CutPointFor300);
        Assert.NotEqual(cells.Number(1), cells.Number(2));
        cells.Holds(3, OxygenationRatios.PressureRatioAt(cells.Number(2)).Value);
    }

    // S/F | band | what it shows; the cut points are Rice's, that they belong below is our reading
    [Theory]
    [InlineData("232 | UpTo235 | the equation's value for 200")]
    [InlineData("235 | UpTo235 | on the cut point")]
    [InlineData("235.01 | UpTo315 | above it")]
    [InlineData("315 | UpTo315 | on the cut point")]
    [InlineData("316 | Above315 | the equation's value for 300 is already above")]
    public void Bands_go_by_the_published_cut_points(string row)
    {
        var cells = new Cells(row);
        Assert.Equal(cells[1], OxygenationRatios.Band(cells.Number(0)).ToString());
    }

    // SpO2 % | FiO2 | S/F, or the reason | source: SpO2 ≤ 97 % Rice et al., Chest 2007;132:410
    [Theory]
    [InlineData("97 | 0.50 | 194")]
    [InlineData("97.000001 | 0.50 | says nothing above 97 %")]
    [InlineData("100 | 0.50 | says nothing above 97 %")]
    [InlineData("0 | 0.50 | expected above 0")]
    [InlineData("101 | 0.50 | expected above 0 and up to 100 %")]
    [InlineData("90 | NaN | inhaled oxygen is not known")]
    [InlineData("90 | 0.12 | less than in air")]
    [InlineData("90 | 0.20 | 450")]
    public void S_over_F_is_given_only_where_the_curve_is_steep_enough(string row)
    {
        var cells = new Cells(row);
        var answer = OxygenationRatios.SaturationOverInhaled(Percent.Of(cells.Decimal(0)), InhaledOxygen.FromFraction(cells.Number(1)));
        if (char.IsDigit(cells[2][0])) Assert.Equal(cells.Number(2), answer.Value, 1e-9);
        else Refuses(cells[2], answer);
    }

    [Fact]
    public void P_over_F_is_in_torr_whatever_the_pressure_was_given_in()
    {
        Assert.Equal(200, OxygenationRatios.PressureOverInhaled(GasPressure.FromTorr(80), InhaledOxygen.FromPercent(40)).Value, 1e-9);
        Assert.Equal(200, OxygenationRatios.PressureOverInhaled(GasPressure.FromKilopascal(80 / GasPressure.TorrPerKilopascal), InhaledOxygen.FromFraction(0.40)).Value, 1e-9);
        Refuses("expected above 0 Torr", OxygenationRatios.PressureOverInhaled(GasPressure.FromTorr(double.NaN), InhaledOxygen.Air));
        Refuses("not known", OxygenationRatios.PressureOverInhaled(GasPressure.FromTorr(80), InhaledOxygen.FromFraction(double.NaN)));
    }

    [Fact]
    public void The_equation_of_S_over_F_returns_where_one_was_and_has_no_P_over_F_below_its_line()
    {
        Gen.Double[1, 700].Sample(ratio => Assert.Equal(ratio, OxygenationRatios.PressureRatioAt(OxygenationRatios.SaturationRatioAt(ratio)).Value, 1e-9), iter: Sampling.Cases(200));
        Refuses("no P/F up to 64", OxygenationRatios.PressureRatioAt(64));
        Refuses("no P/F up to 64", OxygenationRatios.PressureRatioAt(double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => OxygenationRatios.Band(double.NaN));
    }

    [Fact]
    public void A_fraction_given_as_percent_and_the_reverse_are_refused()
    {
        Assert.Contains("percent, perhaps?", Assert.Throws<ArgumentOutOfRangeException>(() => InhaledOxygen.FromFraction(40)).Message, StringComparison.Ordinal);
        Assert.Contains("fraction, perhaps?", Assert.Throws<ArgumentOutOfRangeException>(() => InhaledOxygen.FromPercent(0.40)).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => InhaledOxygen.FromFraction(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => InhaledOxygen.FromPercent(101));
        Assert.Equal(InhaledOxygen.FromFraction(1), InhaledOxygen.FromPercent(100));
    }

    // SpO2 % | FiO2 | RR /min | ROX | source: Roca et al., AJRCCM 2019;199:1368; arithmetic
    [Theory]
    [InlineData("92 | 0.40 | 28 | 8.214")]
    [InlineData("90 | 0.60 | 32 | 4.688")] // printed 4.688: 4.6875
    [InlineData("88 | 0.80 | 35 | 3.143")]
    public void ROX_of_the_worked_examples(string row)
    {
        var cells = new Cells(row);
        cells.Holds(3, RoxIndex.Of(Percent.Of(cells.Decimal(0)), InhaledOxygen.FromFraction(cells.Number(1)), cells.Number(2)).Value);
    }

    // ROX | at 2 h | at 6 h | at 12 h | source: cut points Roca et al., AJRCCM 2019;199:1368
    [Theory]
    [InlineData("8.214 | LowerRisk | LowerRisk | LowerRisk | worked example")]
    [InlineData("4.688 | Undecided | Undecided | Undecided | worked example")]
    [InlineData("3.143 | Undecided | FailureLikely | FailureLikely | worked example: fails 6 and 12 h, not 2 h")]
    [InlineData("4.88 | LowerRisk | LowerRisk | LowerRisk | on the cut point: at least 4.88")]
    [InlineData("4.879 | Undecided | Undecided | Undecided | below it")]
    [InlineData("2.85 | Undecided | FailureLikely | FailureLikely | on the cut point of 2 h: below 2.85")]
    [InlineData("2.849 | FailureLikely | FailureLikely | FailureLikely | below it")]
    [InlineData("3.47 | Undecided | Undecided | FailureLikely | on the cut point of 6 h")]
    [InlineData("3.469 | Undecided | FailureLikely | FailureLikely | below it")]
    [InlineData("3.85 | Undecided | Undecided | Undecided | on the cut point of 12 h")]
    [InlineData("3.849 | Undecided | Undecided | FailureLikely | below it")]
    public void ROX_is_judged_by_the_cut_points_of_its_hour(string row)
    {
        var cells = new Cells(row);
        Assert.Equal([cells[1], cells[2], cells[3]], new[] { 2, 6, 12 }.Select(hours => RoxIndex.Judge(cells.Number(0), hours).Value.ToString()));
    }

    [Fact]
    public void ROX_is_not_judged_at_hours_without_a_cut_point_nor_made_without_its_parts()
    {
        foreach (int hours in new[] { 0, 1, 3, 4, 5, 7, 11, 13, 18, 24 }) Refuses("published for 2, 6 and 12 h", RoxIndex.Judge(4, hours));
        Refuses("ROX is NaN", RoxIndex.Judge(double.NaN, 2));
        Refuses("respiratory rate is 0", RoxIndex.Of(Percent.Of(90), InhaledOxygen.FromFraction(0.5), 0));
        Refuses("respiratory rate is NaN", RoxIndex.Of(Percent.Of(90), InhaledOxygen.FromFraction(0.5), double.NaN));
        Refuses("says nothing above 97 %", RoxIndex.Of(Percent.Of(98), InhaledOxygen.FromFraction(0.5), 25));
    }

    [Fact]
    public void ROX_with_heart_rate_has_its_own_cut_point()
    {
        // PMC7310118: ROX/HR·100, above 6.80 at 10 h lower risk. 6.12/90·100 = 6.80, arithmetic.
        Assert.Equal(RoxIndex.LowerRiskWithHeartRateAbove, RoxIndex.WithHeartRate(6.12, 90).Value, 1e-12);
        Refuses("heart rate is NaN", RoxIndex.WithHeartRate(6, double.NaN));
        Refuses("ROX is NaN", RoxIndex.WithHeartRate(double.NaN, 90));
    }

    [Fact]
    public void OSI_and_OI_of_the_worked_example()
    {
        // FiO2 0.6, mean airway pressure 15, SpO2 90: 10.0, moderate; with PaO2 65: 13.85 (arithmetic; band of 2015, secondary copy).
        var inhaled = InhaledOxygen.FromFraction(0.6);
        double osi = OxygenationIndex.FromSaturation(inhaled, 15, Percent.Of(90)).Value, oi = OxygenationIndex.FromPressure(inhaled, 15, GasPressure.FromTorr(65)).Value;
        Assert.Equal(10, osi, 1e-9);
        Assert.Equal(13.85, oi, 0.005);
        Assert.Equal(OxygenationSeverity.Moderate, SeverityBands.Saturation2015.Of(osi));
        Assert.Equal(OxygenationSeverity.Moderate, SeverityBands.Pressure2015.Of(oi));
    }

    // index | value | year | band | source
    [Theory]
    [InlineData("OSI | 4.99 | 2015 | BelowBands | consensus 2015, secondary copy")]
    [InlineData("OSI | 5 | 2015 | Mild | the same")]
    [InlineData("OSI | 7.49 | 2015 | Mild | the same")]
    [InlineData("OSI | 7.5 | 2015 | Moderate | the same")]
    [InlineData("OSI | 12.29 | 2015 | Moderate | the same")]
    [InlineData("OSI | 12.3 | 2015 | Severe | the same")]
    [InlineData("OI | 3.99 | 2015 | BelowBands | the same")]
    [InlineData("OI | 4 | 2015 | Mild | the same")]
    [InlineData("OI | 8 | 2015 | Moderate | the same")]
    [InlineData("OI | 15.99 | 2015 | Moderate | the same")]
    [InlineData("OI | 16 | 2015 | Severe | the same")]
    [InlineData("OSI | 11.99 | 2023 | NotSevere | from memory")]
    [InlineData("OSI | 12 | 2023 | Severe | from memory")]
    [InlineData("OSI | 12.2 | 2015 | Moderate | consensus 2015: the same child is moderate by one year")]
    [InlineData("OSI | 12.2 | 2023 | Severe | from memory: and severe by the other")]
    [InlineData("OI | 15.99 | 2023 | NotSevere | from memory")]
    [InlineData("OI | 16 | 2023 | Severe | from memory")]
    public void Severity_goes_by_the_bands_of_its_year(string row)
    {
        var cells = new Cells(row);
        var bands = (cells[0], cells[2]) switch
        {
            ("OSI", "2015") => SeverityBands.Saturation2015,
            ("OI", "2015") => SeverityBands.Pressure2015,
            ("OSI", "2023") => SeverityBands.Saturation2023,
            _ => SeverityBands.Pressure2023,
        };
        Assert.Equal(cells[3], bands.Of(cells.Number(1)).ToString());
        Assert.Equal(cells[2] == "2023", bands.Source.Contains("from memory", StringComparison.Ordinal));
    }

    [Fact]
    public void Without_its_parts_there_is_no_OI_or_OSI()
    {
        var inhaled = InhaledOxygen.FromFraction(0.6);
        Refuses("says nothing above 97 %", OxygenationIndex.FromSaturation(inhaled, 15, Percent.Of(98)));
        Refuses("mean airway pressure is NaN", OxygenationIndex.FromSaturation(inhaled, double.NaN, Percent.Of(90)));
        Refuses("mean airway pressure is 0", OxygenationIndex.FromPressure(inhaled, 0, GasPressure.FromTorr(65)));
        Refuses("arterial oxygen pressure is 0", OxygenationIndex.FromPressure(inhaled, 15, GasPressure.FromTorr(0)));
        Refuses("not known", OxygenationIndex.FromPressure(InhaledOxygen.FromFraction(double.NaN), 15, GasPressure.FromTorr(65)));
        Assert.Throws<ArgumentOutOfRangeException>(() => SeverityBands.Saturation2015.Of(double.NaN));
    }

    private static void Refuses<T>(string because, Answer<T> answer)
    {
        Assert.False(answer.HasValue);
        Assert.Contains(because, answer.WhyNot, StringComparison.Ordinal);
    }
}
