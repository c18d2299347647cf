using CsCheck;
using Stillwatch.Quantities;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Quantities;

/// <summary>R1: values are decimals and compared as decimals. R6: half away from zero.</summary>
public sealed class QuantityTests
{
    [Fact]
    public void Rule_1_ten_times_seven_tenths_is_seven() =>
        Assert.Equal(Percent.Of(7), Percent.FromMicro(10 * Percent.Of(0.7m).Micro));

    [Theory]
    [InlineData("88.5", 89)]
    [InlineData("89.5", 90)]
    [InlineData("89.4", 89)]
    [InlineData("89.499999", 89)]
    [InlineData("0.5", 1)]
    [InlineData("0.499999", 0)]
    [InlineData("-0.5", -1)]
    [InlineData("-0.499999", 0)]
    [InlineData("-88.5", -89)]
    public void Rule_6_rounds_half_away_from_zero(string value, int whole) =>
        Assert.Equal(whole * FixedPoint.One, FixedPoint.RoundToWhole(FixedPoint.ToMicro(decimal.Parse(value))));

    [Fact]
    public void Rounding_agrees_with_decimal_arithmetic_for_every_number() =>
        Gen.OneOf(Gen.Int[int.MinValue + 1, int.MaxValue], Gen.OneOf(int.MinValue + 1, int.MaxValue)).Sample(micro =>
            Assert.Equal(Math.Round(micro / 1_000_000m, MidpointRounding.AwayFromZero) * FixedPoint.One, FixedPoint.RoundToWhole(micro)), iter: Sampling.Cases(2000));

    [Fact]
    public void Means_agree_with_decimal_arithmetic() =>
        Gen.Int[-200_000_000, 200_000_000].Array[1, 40].Sample(values =>
        {
            long sum = values.Sum(v => (long)v);
            decimal mean = (decimal)sum / values.Length;
            Assert.Equal(Math.Round(mean, MidpointRounding.AwayFromZero), FixedPoint.Mean(sum, values.Length));
            Assert.Equal(Math.Round(mean / FixedPoint.One, MidpointRounding.AwayFromZero) * FixedPoint.One, FixedPoint.MeanRoundedToWhole(sum, values.Length));
        }, iter: Sampling.Cases(2000));

    [Fact]
    public void A_mean_just_under_a_half_is_not_lifted_by_rounding_twice()
    {
        // 89.4999996…: to millionths 89.5, to whole 90 if rounded twice.
        long sum = 3 * 89_500_000L - 1;
        Assert.Equal(89_500_000, FixedPoint.Mean(sum, 3));
        Assert.Equal(89 * FixedPoint.One, FixedPoint.MeanRoundedToWhole(sum, 3));
    }

    [Fact]
    public void Quantities_order_by_value()
    {
        Assert.True(Percent.Of(89.9m) < Percent.Of(90));
        Assert.True(BeatsPerMinute.Of(50) <= BeatsPerMinute.Of(50));
        Assert.True(Area.Of(30) > Area.Of(29.999m));
        Assert.Equal(30m, Area.Of(30).Value);
        Assert.Equal(Area.Zero, default);
    }

    [Fact]
    public void What_does_not_fit_is_refused_not_wrapped() => Assert.Throws<OverflowException>(() => Percent.Of(2148));
}
