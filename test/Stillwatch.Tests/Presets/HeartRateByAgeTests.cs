using Stillwatch.Alarms;

namespace Stillwatch.Tests.Presets;

/// <summary>Pulse rate limits of children by age, beside the table they were taken from.</summary>
public class HeartRateByAgeTests
{
    // First age in months to last, both included | 1st and 99th centile of heart rate, a minute.
    // Fleming et al., Lancet 2011;377:1011 (143 346 children); these centiles from memory.
    [Theory]
    [InlineData(0, 2, 107, 181)]
    [InlineData(3, 5, 104, 175)]
    [InlineData(6, 8, 98, 168)]
    [InlineData(9, 11, 93, 161)]
    [InlineData(12, 17, 88, 156)]
    [InlineData(18, 23, 82, 149)]
    [InlineData(24, 35, 76, 142)]
    [InlineData(36, 47, 70, 136)]
    [InlineData(48, 71, 65, 131)]
    [InlineData(72, 95, 59, 123)]
    [InlineData(96, 143, 52, 115)]
    [InlineData(144, 179, 47, 108)]
    [InlineData(180, 215, 43, 104)]
    public void A_child_starts_from_the_first_and_last_centile_of_its_age(int fromMonths, int toMonths, int low, int high)
    {
        foreach (int age in new[] { fromMonths, toMonths })
        {
            var preset = CategoryPresets.Paediatric(age);
            Assert.Equal((low, high), ((int)preset.PulseRateLowLimit.Value.Value, (int)preset.PulseRateHighLimit.Value.Value));
            Assert.Contains("from memory", preset.PulseRateLowLimit.Source, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Every_month_of_childhood_has_limits_that_only_fall_with_age_and_both_ends_are_refused()
    {
        var all = Enumerable.Range(0, 216).Select(CategoryPresets.Paediatric).ToList();
        Assert.All(all, p => Assert.True(p.PulseRateLowLimit.Value < p.PulseRateHighLimit.Value));
        Assert.All(all.Zip(all.Skip(1)), p => Assert.True(p.Second.PulseRateLowLimit.Value <= p.First.PulseRateLowLimit.Value && p.Second.PulseRateHighLimit.Value <= p.First.PulseRateHighLimit.Value));
        Assert.Throws<ArgumentOutOfRangeException>(() => CategoryPresets.Paediatric(-1));
        Assert.Throws<ArgumentOutOfRangeException>(() => CategoryPresets.Paediatric(216));
    }
}
