using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tests.Conditioning;

/// <summary>R2: each rejected row keeps its reason. R4: the window. R5: how long a value holds.</summary>
public sealed class ConditionerTests
{
    [Theory]
    [InlineData(96.0, false, false, SampleVerdict.Accepted)]
    [InlineData(100.0, false, false, SampleVerdict.Accepted)]
    [InlineData(30.0, false, false, SampleVerdict.Accepted)]
    [InlineData(29.999, false, false, SampleVerdict.AcceptedImplausible)]
    [InlineData(1.0, false, false, SampleVerdict.AcceptedImplausible)]
    [InlineData(0.0, false, false, SampleVerdict.OutOfRange)]
    [InlineData(-1.0, false, false, SampleVerdict.OutOfRange)]
    [InlineData(100.001, false, false, SampleVerdict.OutOfRange)]
    [InlineData(96.0, true, false, SampleVerdict.FlaggedBySource)]
    [InlineData(96.0, false, true, SampleVerdict.PoorQuality)]
    public void Rule_2_judges_SpO2_and_says_why(double percent, bool flagged, bool poor, SampleVerdict expected)
    {
        var conditioner = New(ConditionedQuantity.SpO2, ConditioningSettings.Default);
        Assert.Equal(expected, conditioner.Accept(0, (int)Math.Round(percent * FixedPoint.One), flagged, poor, out _, out _));
    }

    [Theory]
    [InlineData(250.0, false, SampleVerdict.Accepted)]
    [InlineData(1.0, false, SampleVerdict.Accepted)]
    [InlineData(0.0, false, SampleVerdict.OutOfRange)]
    [InlineData(60.0, true, SampleVerdict.FlaggedBySource)]
    public void Rule_2_judges_pulse_rate_and_says_why(double beats, bool flagged, SampleVerdict expected)
    {
        var conditioner = New(ConditionedQuantity.PulseRate, ConditioningSettings.Default);
        Assert.Equal(expected, conditioner.Accept(0, (int)(beats * FixedPoint.One), flagged, false, out _, out _));
    }

    [Fact]
    public void A_row_without_a_number_is_that_and_nothing_else() =>
        Assert.Equal(SampleVerdict.NoNumber, New(ConditionedQuantity.SpO2, ConditioningSettings.Default with { Validity = ValidityRule.None }).Accept(0, ValueColumn.Missing, true, true, out _, out _));

    [Fact]
    public void With_the_rules_off_every_number_counts_as_it_stands()
    {
        var conditioner = New(ConditionedQuantity.SpO2, ConditioningSettings.Default with { Validity = ValidityRule.None });
        foreach (int percent in new[] { 96, 0, -20, 127, 5 })
        {
            Assert.Equal(SampleVerdict.Accepted, conditioner.Accept(percent + 1000, percent * FixedPoint.One, true, true, out int compared, out bool has));
            Assert.True(has);
            Assert.Equal(percent * FixedPoint.One, compared);
        }
    }

    [Theory]
    [InlineData(1, 86.0, true)]
    [InlineData(1, 85.999, false)]
    [InlineData(3, 66.0, true)]
    [InlineData(3, 65.999, false)]
    [InlineData(3.001, 1.0, true)]
    [InlineData(0.5, 91.0, true)]
    [InlineData(0.5, 90.999, false)]
    [InlineData(0.5, 101.0, false)]
    public void Rule_2_doubts_what_lies_further_than_ten_points_a_second_from_the_last_accepted_value(double seconds, double percent, bool accepted)
    {
        var conditioner = New(ConditionedQuantity.SpO2, ConditioningSettings.Default);
        conditioner.Accept(0, 96 * FixedPoint.One, false, false, out _, out _);
        Assert.Equal(accepted, conditioner.Accept((long)(seconds * 1000), (int)Math.Round(percent * FixedPoint.One), false, false, out _, out _).IsAccepted());
    }

    [Theory]
    // a s, P s, needed: half the window in samples, rounded up.
    [InlineData(2, 1, 1)]
    [InlineData(3, 1, 2)]
    [InlineData(8, 1, 4)]
    [InlineData(5, 1, 3)]
    [InlineData(16, 2, 4)]
    [InlineData(3, 2, 1)]
    [InlineData(5, 2, 2)]
    public void Rule_4_needs_half_a_window(int averagingSeconds, int periodSeconds, int needed)
    {
        var conditioner = new Conditioner(ConditionedQuantity.SpO2, ConditioningSettings.Default with { Averaging = Duration.FromSeconds(averagingSeconds) }, Duration.FromSeconds(periodSeconds));
        for (int sample = 1; sample <= needed; sample++)
        {
            conditioner.Accept(sample * periodSeconds * 1000L, 96 * FixedPoint.One, false, false, out _, out bool has);
            Assert.Equal(sample == needed, has);
        }
    }

    [Theory]
    [InlineData(1, 5, 6)]
    [InlineData(1, 0, 1)]
    [InlineData(5, 5, 10)]
    [InlineData(5, 0, 5)]
    [InlineData(6, 5, 12)]
    [InlineData(60, 5, 120)]
    [InlineData(60, 90, 150)]
    public void Rule_5_holds_for_a_period_and_the_tolerance_which_sparse_series_raise(int periodSeconds, int toleranceSeconds, int holdSeconds) =>
        Assert.Equal(
            Duration.FromSeconds(holdSeconds),
            (ConditioningSettings.Default with { GapTolerance = Duration.FromSeconds(toleranceSeconds) }).HoldAfter(Duration.FromSeconds(periodSeconds)));

    [Fact]
    public void Rows_far_closer_than_the_period_says_are_averaged_all_the_same()
    {
        // A hundred rows a second under a declared period of a second: more than the window first has room for.
        var conditioner = new Conditioner(ConditionedQuantity.SpO2, new(ValidityRule.None, Duration.FromSeconds(2), Duration.FromSeconds(5), Rounding.None), Duration.FromSeconds(1));
        var expected = new Queue<(long Time, int Micro)>();
        for (int i = 0; i < 1000; i++)
        {
            long time = i * 10;
            int micro = (80 + i % 17) * FixedPoint.One;
            conditioner.Accept(time, micro, false, false, out int compared, out bool has);
            expected.Enqueue((time, micro));
            while (expected.Peek().Time <= time - 2000) expected.Dequeue();
            Assert.True(has);
            decimal mean = expected.Sum(e => (decimal)e.Micro) / expected.Count;
            Assert.Equal((int)Math.Round(mean, MidpointRounding.AwayFromZero), compared);
        }
    }

    private static Conditioner New(ConditionedQuantity quantity, ConditioningSettings settings) => new(quantity, settings, new Duration(1000));
}
