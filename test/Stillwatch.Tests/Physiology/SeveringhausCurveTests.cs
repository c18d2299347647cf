using CsCheck;
using Stillwatch.Oxygenation.Dissociation;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Physiology;

/// <summary>
/// Severinghaus, J Appl Physiol 1979;46(3):599–602, doi 10.1152/jappl.1979.46.3.599: equations and the ±0.0055 from its abstract,
/// Table 1 as a secondary copy. Rows marked "arithmetic" are computed once, elsewhere, from the printed equation.
/// </summary>
public sealed class SeveringhausCurveTests
{
    private static double Percent(double torr) => SeveringhausCurve.SaturationAt(GasPressure.FromTorr(torr)).Percent;

    private static double Torr(double fraction) => SeveringhausCurve.PressureAt(Saturation.FromFraction(fraction)).Torr;

    [Fact]
    public void Equation_1_stays_within_the_published_error_on_all_51_points_of_the_standard_curve()
    {
        Assert.Equal(51, StandardCurve.Points.Count);
        Assert.All(StandardCurve.Points, point => Assert.InRange(Math.Abs(Percent(point.Torr) - point.Percent), 0, 0.55));
    }

    [Fact]
    public void The_largest_error_of_equation_1_is_at_150_torr()
    {
        var worst = StandardCurve.Points.MaxBy(point => Math.Abs(Percent(point.Torr) - point.Percent));
        Assert.Equal(150, worst.Torr);
        Assert.Equal(0.546, Math.Abs(Percent(worst.Torr) - worst.Percent), 3); // arithmetic on the table
    }

    // Torr | S % of equation 1 | source
    [Theory]
    [InlineData("20 | 31.977 | arithmetic from equation 1, doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("26.6 | 49.363 | arithmetic from equation 1, doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("30 | 57.377 | arithmetic from equation 1, doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("40 | 74.946 | arithmetic from equation 1, doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("50 | 84.990 | arithmetic from equation 1, doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("60 | 90.580 | arithmetic from equation 1, doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("70 | 93.791 | arithmetic from equation 1, doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("80 | 95.725 | arithmetic from equation 1, doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("90 | 96.945 | arithmetic from equation 1, doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("100 | 97.747 | arithmetic from equation 1, doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("150 | 99.316 | arithmetic from equation 1, doi 10.1152/jappl.1979.46.3.599")]
    public void Equation_1_gives_the_computed_saturations(string row)
    {
        var cells = new Cells(row);
        cells.Holds(1, Percent(cells.Number(0)));
    }

    // S | Torr | source
    [Theory]
    [InlineData("0.50 | 26.857 | arithmetic: equation 1 of the same paper inverted (Ellis 1989, secondary copy)")]
    [InlineData("0.75 | 40.040 | arithmetic: equation 1 of the same paper inverted (Ellis 1989, secondary copy)")]
    [InlineData("0.80 | 44.303 | arithmetic: equation 1 of the same paper inverted (Ellis 1989, secondary copy)")]
    [InlineData("0.85 | 50.013 | arithmetic: equation 1 of the same paper inverted (Ellis 1989, secondary copy)")]
    [InlineData("0.88 | 54.670 | arithmetic: equation 1 of the same paper inverted (Ellis 1989, secondary copy)")]
    [InlineData("0.90 | 58.655 | arithmetic: equation 1 of the same paper inverted (Ellis 1989, secondary copy)")]
    [InlineData("0.92 | 63.787 | arithmetic: equation 1 of the same paper inverted (Ellis 1989, secondary copy)")]
    [InlineData("0.94 | 70.871 | arithmetic: equation 1 of the same paper inverted (Ellis 1989, secondary copy)")]
    [InlineData("0.95 | 75.668 | arithmetic: equation 1 of the same paper inverted (Ellis 1989, secondary copy)")]
    [InlineData("0.97 | 90.573 | arithmetic: equation 1 of the same paper inverted (Ellis 1989, secondary copy)")]
    [InlineData("0.98 | 104.188 | arithmetic: equation 1 of the same paper inverted (Ellis 1989, secondary copy)")]
    [InlineData("0.99 | 131.940 | arithmetic: equation 1 of the same paper inverted (Ellis 1989, secondary copy)")]
    public void The_exact_inverse_gives_the_computed_pressures(string row)
    {
        var cells = new Cells(row);
        cells.Holds(1, Torr(cells.Number(0)));
    }

    [Theory]
    [InlineData("0.50 | 26.83 | arithmetic from equation 2, doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("0.80 | 44.37 | arithmetic from equation 2, doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("0.85 | 49.83 | arithmetic from equation 2, doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("0.95 | 74.92 | arithmetic from equation 2, doi 10.1152/jappl.1979.46.3.599")]
    public void Equation_2_gives_the_computed_pressures(string row)
    {
        var cells = new Cells(row);
        cells.Holds(1, SeveringhausCurve.PressureByEquation2(Saturation.FromFraction(cells.Number(0))).Torr);
    }

    [Fact]
    public void Equations_1_and_2_agree_with_another_programs_documented_output()
    {
        // Secondary: the documentation of a public package, in kPa; its factor to Torr differs from ours in the seventh digit.
        var saturation = SeveringhausCurve.SaturationAt(GasPressure.FromKilopascal(8));
        Assert.Equal(0.9058175549677596, saturation.Fraction, 6);
        Assert.Equal(7.9177317848, SeveringhausCurve.PressureByEquation2(saturation).Kilopascal, 5);
        Assert.Equal(6.6434949050, SeveringhausCurve.PressureByEquation2(Saturation.FromFraction(0.85)).Kilopascal, 5);

        // Arithmetic with 7.50062 Torr to the kPa instead of the exact 760/101.325.
        var rounded = SeveringhausCurve.SaturationAt(GasPressure.FromTorr(8 * 7.50062));
        Assert.Equal(0.90581770, rounded.Fraction, 8);
        Assert.Equal(7.9177, SeveringhausCurve.PressureByEquation2(rounded).Torr / 7.50062, 4); // its further digits were not reproduced: 7.91773168 here
        Assert.Equal(6.64349115, SeveringhausCurve.PressureByEquation2(Saturation.FromFraction(0.85)).Torr / 7.50062, 8);
    }

    [Theory]
    [InlineData("26.6 | 0.07100 | arithmetic from equation 3, doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("100 | 0.07076 | arithmetic from equation 3, doi 10.1152/jappl.1979.46.3.599")]
    public void Equation_3_gives_the_rise_with_temperature(string row)
    {
        var cells = new Cells(row);
        cells.Holds(1, SeveringhausCurve.LogPressurePerDegree(GasPressure.FromTorr(cells.Number(0))));
    }

    [Theory]
    [InlineData("26.6 | -1.2000 | arithmetic from equation 4, doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("60 | -1.0385 | arithmetic from equation 4, doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("100 | -0.9241 | arithmetic from equation 4, doi 10.1152/jappl.1979.46.3.599")]
    public void Equation_4_gives_the_bohr_effect(string row)
    {
        var cells = new Cells(row);
        cells.Holds(1, SeveringhausCurve.LogPressurePerPH(GasPressure.FromTorr(cells.Number(0))));
    }

    [Fact]
    public void There_and_back_is_where_one_was() =>
        Gen.Double[0.01, 700].Sample(torr => Assert.Equal(1, Torr(SeveringhausCurve.SaturationAt(GasPressure.FromTorr(torr)).Fraction) / torr, 1e-9), iter: Sampling.Cases(2000));

    [Fact]
    public void Back_and_there_is_where_one_was() =>
        Gen.Double[1e-12, 0.9999].Sample(fraction => Assert.Equal(1, Percent(Torr(fraction)) / 100 / fraction, 1e-9), iter: Sampling.Cases(2000));

    [Fact]
    public void More_oxygen_is_never_less_saturation() =>
        Gen.Select(Gen.Double[0, 700], Gen.Double[0.001, 5]).Sample((torr, more) => Assert.True(Percent(torr + more) > Percent(torr)), iter: Sampling.Cases(2000));

    [Fact]
    public void The_inverse_agrees_with_halving_an_interval_and_with_the_sum_of_cube_roots() =>
        Gen.Double[0.01, 0.995].Sample(fraction =>
        {
            double low = 0, high = 1000;
            for (int step = 0; step < 80; step++)
            {
                double middle = (low + high) / 2;
                if (Percent(middle) < fraction * 100) low = middle;
                else high = middle;
            }

            Assert.Equal(low, Torr(fraction), 1e-8);
            double q = 11700 / (1 / fraction - 1), root = Math.Sqrt(50 * 50 * 50 + q * q);
            Assert.Equal(Math.Cbrt(q + root) + Math.Cbrt(q - root), Torr(fraction), 1e-8); // as Ellis prints it
        }, iter: Sampling.Cases(300));

    [Fact]
    public void The_two_inverses_differ_by_no_more_than_1_2_percent_between_10_and_98_percent()
    {
        for (double fraction = 0.10; fraction < 0.9801; fraction += 0.001)
            Assert.InRange(SeveringhausCurve.PressureByEquation2(Saturation.FromFraction(fraction)).Torr / Torr(fraction), 1 - 0.012, 1 + 0.012);
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(-0.001)]
    public void Without_a_pressure_there_is_no_number(double torr)
    {
        Assert.Equal(double.NaN, Percent(torr));
        Assert.Equal(double.NaN, SeveringhausCurve.LogPressurePerDegree(GasPressure.FromTorr(torr)));
        Assert.Equal(double.NaN, SeveringhausCurve.LogPressurePerPH(GasPressure.FromTorr(torr)));
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(-0.001)]
    [InlineData(1.001)]
    [InlineData(97)] // percent given as a fraction
    public void A_fraction_outside_0_to_1_has_no_pressure(double fraction)
    {
        Assert.Equal(double.NaN, Torr(fraction));
        Assert.Equal(double.NaN, SeveringhausCurve.PressureByEquation2(Saturation.FromFraction(fraction)).Torr);
    }

    [Fact]
    public void The_ends_of_the_curve_are_where_they_should_be()
    {
        Assert.Equal(0, Percent(0));
        Assert.Equal(100, Percent(double.PositiveInfinity));
        Assert.Equal(0, Torr(0));
        Assert.Equal(double.PositiveInfinity, Torr(1));
        Assert.Equal(double.NaN, SeveringhausCurve.PressureByEquation2(Saturation.FromFraction(0)).Torr);
        Assert.Equal(double.NaN, SeveringhausCurve.PressureByEquation2(Saturation.FromFraction(1)).Torr);
    }
}
