using Stillwatch.Alarms;
using Stillwatch.Signals;

namespace Stillwatch.Tests.Presets;

public sealed class CategoryPresetsTests
{
    public static readonly TheoryData<string, PatientCategory, int, int, int> Names = new()
    {
        // name | category | SpO2 low limit | pulse low | pulse high
        { "adult", PatientCategory.Adult, 90, 50, 120 },
        { "hypercapnic", PatientCategory.AdultHypercapnicRisk, 86, 50, 120 },
        { "paediatric:0mo", PatientCategory.PaediatricInfant, 90, 107, 181 },
        { "paediatric:8mo", PatientCategory.PaediatricInfant, 90, 98, 168 },
        { "paediatric:4y", PatientCategory.PaediatricChild, 90, 65, 131 },
        { "paediatric:17y", PatientCategory.PaediatricAdolescent, 90, 43, 104 },
        { "neonate-oxygen", PatientCategory.NeonatalOnOxygen, 88, 100, 200 },
        { "neonate-air", PatientCategory.NeonatalOnAir, 88, 100, 200 },
    };

    public static IEnumerable<TheoryDataRow<string>> EveryName => Names.Select(row => new TheoryDataRow<string>(row.Data.Item1));

    [Theory]
    [MemberData(nameof(Names))]
    public void A_name_gives_its_preset(string name, PatientCategory category, int low, int pulseLow, int pulseHigh)
    {
        Assert.True(CategoryPresets.TryParse(name, out var preset));
        Assert.Equal(category, preset!.Category);
        Assert.Equal(low, preset.SpO2LowLimit.Value.Value);
        Assert.Equal(pulseLow, preset.PulseRateLowLimit.Value.Value);
        Assert.Equal(pulseHigh, preset.PulseRateHighLimit.Value.Value);
    }

    [Theory]
    [InlineData("grown-up")]
    [InlineData("paediatric:")]
    [InlineData("paediatric:18y")]
    [InlineData("paediatric:-1y")]
    [InlineData("paediatric:4")]
    [InlineData("paediatric:99999999999y")]
    public void Anything_else_is_refused(string name) => Assert.False(CategoryPresets.TryParse(name, out _));

    [Theory]
    [MemberData(nameof(EveryName))]
    public void Every_number_says_where_it_comes_from(string name)
    {
        Assert.True(CategoryPresets.TryParse(name, out var preset));
        var sources = typeof(CategoryPreset).GetProperties()
            .Where(p => p.PropertyType.IsGenericType && p.PropertyType.GetGenericTypeDefinition() == typeof(Sourced<>))
            .Select(p => p.GetValue(preset))
            .Where(v => v is not null)
            .Select(v => (string)v!.GetType().GetProperty("Source")!.GetValue(v)!)
            .ToList();
        Assert.True(sources.Count >= 8);
        Assert.All(sources, s => Assert.True(s.Length > 5));
    }

    [Theory]
    [MemberData(nameof(EveryName))]
    public void The_backstop_lies_below_the_limit_and_proposals_stay_at_85_or_above(string name)
    {
        Assert.True(CategoryPresets.TryParse(name, out var preset));
        Assert.True(preset!.BackstopLimit.Value < preset.SpO2LowLimit.Value);
        Assert.True(preset.LowestProposedLimit.Value.Value >= 85); // R14.5
        Assert.True(preset.LongestProposedDelay.Value.Seconds <= 30); // R14.5
    }
}
