using CsCheck;
using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Xunit;

namespace Stillwatch.Tests;

/// <summary>From category, oxygen and prescription to numbers, each with its reason.</summary>
public class StartingSettingsTests
{
    // category | oxygen | prescribed | low limit | backstop | high limit
    [Theory]
    [InlineData("adult", "air", "", "90", "80", "off")]
    [InlineData("adult", "oxygen", "94-98", "90", "80", "off")]
    [InlineData("adult", "oxygen", "92-96", "88", "80", "off")]
    [InlineData("adult", "oxygen", "88-92", "85", "80", "off")] // 84 would be below the lowest that is proposed
    [InlineData("hypercapnic", "oxygen", "", "86", "78", "94")]
    [InlineData("hypercapnic", "oxygen", "88-92", "86", "78", "94")]
    [InlineData("hypercapnic", "oxygen", "90-94", "88", "78", "96")]
    [InlineData("hypercapnic", "unknown", "88-92", "86", "78", "94")]
    [InlineData("hypercapnic", "air", "88-92", "86", "78", "off")]
    [InlineData("neonate-oxygen", "oxygen", "90-94", "87", "80", "95")]
    [InlineData("neonate-air", "air", "", "88", "80", "off")]
    [InlineData("paediatric:4y", "air", "92-97", "90", "80", "off")] // the child's limit lies below the range already
    [InlineData("paediatric:4y", "oxygen", "88-94", "87", "80", "off")]
    public void Limits_follow_the_prescription_at_the_distance_that_the_category_has(string category, string oxygen, string prescribed, string low, string backstop, string high)
    {
        var start = Start(category, oxygen, prescribed).Numbers;
        Assert.Equal((low, backstop, high), ($"{start.SpO2LowLimit.Value.Value:0.##}", $"{start.BackstopLimit.Value.Value:0.##}", start.SpO2HighLimit is { } h ? $"{h.Value.Value:0.##}" : "off"));
    }

    [Theory]
    [InlineData("hypercapnic", "oxygen", "88-92", "can raise carbon dioxide")]
    [InlineData("hypercapnic", "air", "88-92", "SpO2 high was switched off")]
    [InlineData("neonate-oxygen", "oxygen", "91-95", "retinopathy")]
    [InlineData("neonate-oxygen", "air", "91-95", "take the category for neonates breathing air")]
    [InlineData("neonate-air", "oxygen", "", "take the category for neonates on oxygen")]
    [InlineData("paediatric:8mo", "air", "", "Infants desaturate faster")]
    [InlineData("adult", "oxygen", "88-92", "ask whether that category is meant")]
    [InlineData("adult", "oxygen", "88-92", "put the low limit at 84 %")]
    [InlineData("adult", "air", "", "the category's usual one is 94–98 %")]
    [InlineData("paediatric:4y", "air", "", "Ask for the prescription")]
    public void What_must_be_thought_of_with_this_patient_is_said(string category, string oxygen, string prescribed, string said) =>
        Assert.Contains(Start(category, oxygen, prescribed).Cautions, c => c.Contains(said, StringComparison.Ordinal));

    [Fact]
    public void A_number_that_nothing_changed_keeps_the_source_of_the_category()
    {
        var start = Start("adult", "oxygen", "92-96").Numbers;
        Assert.Equal(CategoryPresets.Adult.BackstopLimit, start.BackstopLimit);
        Assert.Equal(CategoryPresets.Adult.PulseRateHighLimit, start.PulseRateHighLimit);
        Assert.Equal("4 points below the prescribed 92–96 %, as the category's limit is below its usual 94–98 % (unit policy, no source)", start.SpO2LowLimit.Source);
    }

    [Fact]
    public void Whatever_is_prescribed_the_settings_can_be_used_and_stay_inside_the_bounds_of_a_proposal() =>
        Gen.Select(OneOf("adult", "hypercapnic", "neonate-oxygen", "neonate-air", "paediatric:8mo", "paediatric:4y"), OneOf("air", "oxygen", "unknown"), Gen.Int[50, 100], Gen.Int[0, 20]).Sample(
            (category, oxygen, low, width) =>
            {
                var start = Start(category, oxygen, $"{low}-{Math.Min(100, low + width)}").Numbers;
                Assert.Empty(AlarmSettingsCheck.Problems(start.ToSettings()));
                Assert.True(start.SpO2LowLimit.Value >= start.LowestProposedLimit.Value);
            });

    [Theory]
    [InlineData("96-94")]
    [InlineData("40-60")]
    public void A_range_that_cannot_be_is_refused(string prescribed) => Assert.Throws<ArgumentException>(() => Start("adult", "air", prescribed));

    private static Gen<string> OneOf(params string[] words) => Gen.Int[0, words.Length - 1].Select(i => words[i]);

    private static StartingSettings Start(string category, string oxygen, string prescribed)
    {
        Assert.True(CategoryPresets.TryParse(category, out var preset));
        int[] ends = [.. prescribed.Split('-', StringSplitOptions.RemoveEmptyEntries).Select(int.Parse)];
        return StartingSettings.For(
            preset!, oxygen switch { "air" => false, "oxygen" => true, _ => null },
            ends.Length == 2 ? new PercentRange(Percent.Of(ends[0]), Percent.Of(ends[1])) : null);
    }
}
