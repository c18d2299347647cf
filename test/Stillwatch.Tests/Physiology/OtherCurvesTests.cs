using CsCheck;
using Stillwatch.Oxygenation.Dissociation;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Physiology;

/// <summary>
/// Kelman's and Hill's curves, the shift by temperature, pH and carbon dioxide, and P50 by age. Coefficients from secondary copies
/// (Kelman, J Appl Physiol 1966;21:1375, citation from memory); rows marked "arithmetic" are computed once, elsewhere, from them.
/// </summary>
public sealed class OtherCurvesTests
{
    // Torr | Kelman S % | Hill 26.6/2.7 S % | Hill 19.5/2.7 S % | source
    [Theory]
    [InlineData("20 | 33.831 | 31.648 | 51.708 | arithmetic: Kelman 1966 by three secondary copies of its coefficients, Hill by a public code")]
    [InlineData("26.6 | 49.486 | 50.000 | 69.812 | arithmetic: Kelman 1966 by three secondary copies of its coefficients, Hill by a public code")]
    [InlineData("30 | 56.706 | 58.049 | 76.190 | arithmetic: Kelman 1966 by three secondary copies of its coefficients, Hill by a public code")]
    [InlineData("40 | 74.116 | 75.054 | 87.434 | arithmetic: Kelman 1966 by three secondary copies of its coefficients, Hill by a public code")]
    [InlineData("50 | 85.148 | 84.606 | 92.706 | arithmetic: Kelman 1966 by three secondary copies of its coefficients, Hill by a public code")]
    [InlineData("60 | 91.057 | 89.991 | 95.411 | arithmetic: Kelman 1966 by three secondary copies of its coefficients, Hill by a public code")]
    [InlineData("70 | 94.119 | 93.166 | 96.926 | arithmetic: Kelman 1966 by three secondary copies of its coefficients, Hill by a public code")]
    [InlineData("80 | 95.808 | 95.134 | 97.836 | arithmetic: Kelman 1966 by three secondary copies of its coefficients, Hill by a public code")]
    [InlineData("90 | 96.826 | 96.412 | 98.416 | arithmetic: Kelman 1966 by three secondary copies of its coefficients, Hill by a public code")]
    [InlineData("100 | 97.490 | 97.276 | 98.804 | arithmetic: Kelman 1966 by three secondary copies of its coefficients, Hill by a public code")]
    [InlineData("150 | 98.911 | 99.072 | 99.596 | arithmetic: Kelman 1966 by three secondary copies of its coefficients, Hill by a public code")]
    public void The_models_give_the_computed_saturations(string row)
    {
        var cells = new Cells(row);
        var oxygen = GasPressure.FromTorr(cells.Number(0));
        cells.Holds(1, KelmanCurve.SaturationAt(oxygen).Value.Percent);
        cells.Holds(2, HillCurve.Adult.SaturationAt(oxygen).Percent);
        cells.Holds(3, new HillCurve(GasPressure.FromTorr(19.5)).SaturationAt(oxygen).Percent);
    }

    // °C | pH | PCO2 Torr | virtual PO2 of 60 Torr | S % by equation 1 | source
    [Theory]
    [InlineData("39 | 7.40 | 40 | 53.722 | 87.45 | arithmetic: Kelman's virtual pressure by two secondary copies, equation 1 of doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("37 | 7.2 | 40 | 49.906 | 84.92 | arithmetic: Kelman's virtual pressure by two secondary copies, equation 1 of doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("37 | 7.6 | 40 | 72.136 | 94.29 | arithmetic: Kelman's virtual pressure by two secondary copies, equation 1 of doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("37 | 7.40 | 60 | 58.558 | 89.96 | arithmetic: Kelman's virtual pressure by two secondary copies, equation 1 of doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("39 | 7.2 | 60 | 43.610 | 79.27 | arithmetic: Kelman's virtual pressure by two secondary copies, equation 1 of doi 10.1152/jappl.1979.46.3.599")]
    [InlineData("34 | 7.40 | 40 | 70.819 | 93.99 | arithmetic: Kelman's virtual pressure by two secondary copies, equation 1 of doi 10.1152/jappl.1979.46.3.599")]
    public void Fever_acid_and_carbon_dioxide_move_60_torr_as_computed(string row)
    {
        var cells = new Cells(row);
        var conditions = new BloodConditions(cells.Number(0), cells.Number(1), GasPressure.FromTorr(cells.Number(2)));
        var virtually = conditions.VirtualOxygen(GasPressure.FromTorr(60)).Value;
        cells.Holds(3, virtually.Torr);
        cells.Holds(4, SeveringhausCurve.SaturationAt(virtually).Percent);
    }

    [Fact]
    public void At_standard_conditions_nothing_is_moved() =>
        Gen.Double[0, 700].Sample(torr => Assert.Equal(torr, BloodConditions.Standard.VirtualOxygen(GasPressure.FromTorr(torr)).Value.Torr), iter: Sampling.Cases(500));

    [Fact]
    public void Fever_acid_and_carbon_dioxide_never_raise_a_saturation() =>
        Gen.Select(Gen.Double[20, 300], Gen.Double[30, 41], Gen.Double[7.0, 7.7], Gen.Double[15, 100]).Sample((torr, celsius, pH, carbonDioxide) =>
        {
            double At(double c, double p, double co2) =>
                KelmanCurve.SaturationAt(GasPressure.FromTorr(torr), new BloodConditions(c, p, GasPressure.FromTorr(co2))) is { HasValue: true } answer ? answer.Value.Fraction : double.NaN;
            double here = At(celsius, pH, carbonDioxide);
            if (double.IsNaN(here)) return;
            Assert.False(At(celsius + 0.5, pH, carbonDioxide) > here);
            Assert.False(At(celsius, pH - 0.05, carbonDioxide) > here);
            Assert.False(At(celsius, pH, carbonDioxide + 5) > here);
        }, iter: Sampling.Cases(1000));

    [Fact]
    public void Kelmans_curve_rises_throughout_its_range()
    {
        double last = 0;
        for (double torr = 10; torr <= 760; torr += 0.25)
        {
            double here = KelmanCurve.SaturationAt(GasPressure.FromTorr(torr)).Value.Fraction;
            Assert.InRange(here, last + 1e-12, 1);
            last = here;
        }
    }

    [Fact]
    public void Kelman_stays_near_the_standard_curve()
    {
        foreach (var (torr, percent) in StandardCurve.Points.Where(p => p.Torr >= 10))
            Assert.InRange(Math.Abs(KelmanCurve.SaturationAt(GasPressure.FromTorr(torr)).Value.Percent - percent), 0, torr >= 42 ? 0.47 : 2.3);
    }

    [Fact]
    public void Hill_stays_near_the_standard_curve()
    {
        foreach (var (torr, percent) in StandardCurve.Points)
        {
            double off = HillCurve.Adult.SaturationAt(GasPressure.FromTorr(torr)).Percent - percent;
            Assert.InRange(off, torr >= 18 ? -1 : -3, 1);
        }
    }

    // Torr | °C | pH | PCO2 | the reason says
    [Theory]
    [InlineData("9.9 | 37 | 7.40 | 40 | the polynomials hold from 10 Torr")]
    [InlineData("4 | 37 | 7.40 | 40 | the polynomials hold from 10 Torr")]
    [InlineData("12 | 41 | 7.0 | 60 | the polynomials hold from 10 Torr")] // 12 Torr are fewer in hot acid blood
    [InlineData("761 | 37 | 7.40 | 40 | used up to 760 Torr")]
    [InlineData("NaN | 37 | 7.40 | 40 | expected 0 Torr or more")]
    [InlineData("-1 | 37 | 7.40 | 40 | expected 0 Torr or more")]
    [InlineData("60 | 98.6 | 7.40 | 40 | temperature is 98.6 °C")]
    [InlineData("60 | NaN | 7.40 | 40 | temperature is NaN °C")]
    [InlineData("60 | 37 | 6.7 | 40 | pH is 6.7")]
    [InlineData("60 | 37 | NaN | 40 | pH is NaN")]
    [InlineData("60 | 37 | 7.40 | 5.3 | given in kPa, perhaps?")]
    [InlineData("60 | 37 | 7.40 | 151 | carbon dioxide pressure is 151 Torr")]
    public void Outside_its_range_Kelmans_curve_gives_a_reason_and_no_number(string row)
    {
        var cells = new Cells(row);
        var answer = KelmanCurve.SaturationAt(GasPressure.FromTorr(cells.Number(0)), new BloodConditions(cells.Number(1), cells.Number(2), GasPressure.FromTorr(cells.Number(3))));
        Assert.False(answer.HasValue);
        Assert.Contains(cells[4], answer.WhyNot, StringComparison.Ordinal);
        Assert.Contains(cells[4], Assert.Throws<InvalidOperationException>(() => answer.Value).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Hills_inverse_returns_where_one_was() =>
        Gen.Select(Gen.Double[0.1, 500], Gen.Double[15, 35], Gen.Double[2, 3.2]).Sample((torr, p50, n) =>
        {
            var curve = new HillCurve(GasPressure.FromTorr(p50), n);
            Assert.Equal(0.5, curve.SaturationAt(curve.HalfSaturation).Fraction, 1e-12);
            Assert.Equal(1, curve.PressureAt(curve.SaturationAt(GasPressure.FromTorr(torr))).Torr / torr, 1e-6);
        }, iter: Sampling.Cases(1000));

    [Fact]
    public void Hills_curve_has_no_number_where_there_is_no_pressure_and_refuses_an_impossible_P50()
    {
        Assert.Equal(0, HillCurve.Adult.SaturationAt(GasPressure.FromTorr(0)).Fraction);
        Assert.Equal(1, HillCurve.Adult.SaturationAt(GasPressure.FromTorr(double.PositiveInfinity)).Fraction);
        Assert.Equal(double.NaN, HillCurve.Adult.SaturationAt(GasPressure.FromTorr(-1)).Fraction);
        Assert.Equal(double.NaN, HillCurve.Adult.SaturationAt(GasPressure.FromTorr(double.NaN)).Fraction);
        Assert.Equal(double.NaN, HillCurve.Adult.PressureAt(Saturation.FromFraction(1.01)).Torr);
        Assert.Equal(double.PositiveInfinity, HillCurve.Adult.PressureAt(Saturation.FromFraction(1)).Torr);
        Assert.Throws<ArgumentOutOfRangeException>(() => new HillCurve(GasPressure.FromTorr(0)));
        Assert.Throws<ArgumentOutOfRangeException>(() => new HillCurve(GasPressure.FromTorr(double.NaN)));
        Assert.Throws<ArgumentOutOfRangeException>(() => new HillCurve(GasPressure.FromTorr(26.6), 0));
    }

    // age in days | lowest P50 | highest P50 Torr, or none | source
    [Theory]
    [InlineData("0 | 18 | 20 | secondary copies: 18–19, 18–20, about 19")]
    [InlineData("7 | 18 | 20 | the same; the first week is our own reading of newborn")]
    [InlineData("8 | none | none | nothing published between")]
    [InlineData("121 | none | none | nothing published between")]
    [InlineData("122 | 30 | 30 | one secondary copy: about 30 by 4–6 months")]
    [InlineData("213 | 30 | 30 | the same")]
    [InlineData("214 | none | none | nothing published between")]
    [InlineData("6574 | none | none | nothing published between")]
    [InlineData("6575 | 26.6 | 27 | secondary copies: 26.6–27")]
    [InlineData("30000 | 26.6 | 27 | the same")]
    [InlineData("-1 | none | none | no age")]
    [InlineData("NaN | none | none | no age")]
    public void P50_is_given_where_a_source_gives_it_and_nowhere_else(string row)
    {
        var cells = new Cells(row);
        var answer = HalfSaturationByAge.At(cells.Number(0));
        Assert.Equal(cells[1] != "none", answer.HasValue);
        if (!answer.Is(out var range)) return;
        Assert.Equal(cells.Number(1), range.Lowest.Torr);
        Assert.Equal(cells.Number(2), range.Highest.Torr);
        Assert.NotEmpty(range.Source);
    }

    [Fact]
    public void A_newborn_saturates_at_a_pressure_that_leaves_an_adult_blue()
    {
        var oxygen = GasPressure.FromTorr(40);
        var newborn = HalfSaturationByAge.Newborn;
        Assert.True(new HillCurve(newborn.Lowest).SaturationAt(oxygen).Percent > new HillCurve(newborn.Highest).SaturationAt(oxygen).Percent);
        Assert.True(new HillCurve(newborn.Highest).SaturationAt(oxygen).Percent > HillCurve.Adult.SaturationAt(oxygen).Percent + 10);
    }

    [Fact]
    public void Torr_and_kilopascal_are_one_pressure()
    {
        Assert.Equal(101.325, GasPressure.FromTorr(760).Kilopascal, 12); // the definition of the Torr
        Assert.Equal(7.50062, GasPressure.FromKilopascal(1).Torr, 5);
        Assert.Equal(0.97, Saturation.FromPercent(97).Fraction, 15);
        Assert.Equal(97, Saturation.From(Stillwatch.Quantities.Percent.Of(97)).Percent, 12);
    }
}
