using CsCheck;
using Stillwatch.Conditioning;
using Stillwatch.Signals;
using Stillwatch.Tests.Oxygenation;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Xunit;

namespace Stillwatch.Tests.MustCatch;

/// <summary>Rule R13: what counts as a must-catch event.</summary>
public sealed class MustCatchFinderTests
{
    // id | what it shows | series, one row a second | definition | events: onset-end:nadir:parts
    private const string Table =
        """
        line-1 | at most 85 for 60 s at one row a second is 60 rows | 89*5 85*60 89*5 | <=85/60 | 5-65:85:1
        line-2 | 59 rows are too few | 89*5 85*59 89*5 | <=85/60 | none
        line-3 | at most includes the level, below does not | 89*5 85*60 89*5 | <85/60 | none
        line-4 | below 85 | 89*5 84*60 89*5 | <85/60 | 5-65:84:1
        line-5 | a touch of 86 starts the count again | 89*5 85*40 86 85*40 89*5 | <=85/60 | none
        round-1 | 85.4 shows as 85 | 89*5 85.4*60 89*5 | <=85/60 | 5-65:85:1
        round-2 | 85.5 shows as 86 | 89*5 85.5*60 89*5 | <=85/60 | none
        gap-1 | held time counts toward T | 89*5 85*55 .*5 89*5 | <=85/60 | 5-65:85:1
        gap-2 | lost time does not: 54 s and 1 s of its own, 5 s of hold, then lost | 89*5 85*54 .*20 89*5 | <=85/60 | none
        gap-3 | back within a minute and still low: 30 s with the hold, and 30 s after the loss | 89*5 85*25 .*20 85*30 89*5 | <=85/60 | 5-80:85:1
        gap-4 | as gap-3, one second less | 89*5 85*25 .*20 85*29 89*5 | <=85/60 | none
        gap-5 | back after exactly 60 s of loss | 89*5 85*25 .*65 85*30 89*5 | <=85/60 | 5-125:85:1
        gap-6 | gone a second longer: two stretches, each too short | 89*5 85*25 .*66 85*30 89*5 | <=85/60 | none
        gap-7 | back recovered: it ended at the loss | 89*5 85*60 .*20 89*5 | <=85/60 | 5-70:85:1
        gap-8 | back recovered and low again: not the same event | 89*5 85*60 .*20 89 85*60 89*5 | <=85/60 | 5-70:85:1 86-146:85:1
        end-1 | the end of the recording closes it | 89*5 85*60 | <=85/60 | 5-65:85:1
        two-1 | the default's deep line alone | 89*5 79*15 89*5 | <=85/60 <80/15 | 5-20:79:1
        two-2 | a deep dip inside a long one is one event with two parts | 89*5 85*30 79*15 85*30 89*5 | <=85/60 <80/15 | 5-80:79:2
        two-3 | a dip of 14 s below 80 is not | 89*5 79*14 89*5 | <=85/60 <80/15 | none
        two-4 | two deep parts inside one long event | 89*5 79*15 85*30 79*15 89*5 | <=85/60 <80/15 | 5-65:79:3
        two-5 | 80 is not below 80 | 89*5 80*15 89*5 | <=85/60 <80/15 | none
        valid-1 | a dropout code is no low value | 89*5 0*60 89*5 | <=85/60 | none
        valid-2 | a doubted jump starts and ends it late: 19 points need 2 s | 89*5 70*60 89*5 | <=85/60 | 6-66:70:1
        """;

    public static TheoryData<string[]> Cases => MustCatchTables.Rows(Table);

    [Theory]
    [MemberData(nameof(Cases))]
    public void Events_are_found_as_the_table_says(string[] row)
    {
        var events = MustCatchFinder.Find(SeriesText.Source(row[2]), ConditioningSettings.Default, MustCatchTables.Definition(row[3]));
        string found = MustCatchTables.Describe(events);
        Assert.True(row[4] == found, $"{row[0]} ({row[1]}): expected {row[4]}, found {found}");
    }

    [Fact]
    public void Averaging_and_rounding_of_the_candidate_change_nothing()
    {
        var source = SeriesText.Source("96*5 85.4*60 96*5 79*15 96*5");
        var definition = MustCatchDefinitions.For(PatientCategory.Adult);
        string plain = MustCatchTables.Describe(MustCatchFinder.Find(source, ConditioningSettings.Default, definition));
        var other = ConditioningSettings.Default with { Averaging = Duration.FromSeconds(16), Rounding = Rounding.None };
        Assert.NotEqual("none", plain);
        Assert.Equal(plain, MustCatchTables.Describe(MustCatchFinder.Find(source, other, definition)));
    }

    [Fact]
    public void A_part_carries_its_line_and_its_T()
    {
        var part = Assert.Single(Assert.Single(MustCatchFinder.Find(SeriesText.Source("96*5 85*60 96*5"), ConditioningSettings.Default, MustCatchTables.Definition("<=85/60"))).Parts);
        Assert.Equal("≤ 85 % for ≥ 60 s", part.Because);
        Assert.Equal(Duration.FromSeconds(60), part.Within);
    }

    [Theory]
    [InlineData(PatientCategory.Unknown, "≤ 85 % for ≥ 60 s, < 80 % for ≥ 15 s")]
    [InlineData(PatientCategory.Adult, "≤ 85 % for ≥ 60 s, < 80 % for ≥ 15 s")]
    [InlineData(PatientCategory.AdultHypercapnicRisk, "≤ 83 % for ≥ 60 s, < 80 % for ≥ 15 s")]
    [InlineData(PatientCategory.PaediatricAdolescent, "≤ 85 % for ≥ 60 s, < 80 % for ≥ 15 s")]
    [InlineData(PatientCategory.PaediatricChild, "≤ 85 % for ≥ 60 s, < 80 % for ≥ 15 s")]
    [InlineData(PatientCategory.PaediatricInfant, "≤ 85 % for ≥ 30 s, < 80 % for ≥ 10 s")]
    [InlineData(PatientCategory.NeonatalOnOxygen, "< 80 % for ≥ 10 s")]
    [InlineData(PatientCategory.NeonatalOnAir, "≤ 85 % for ≥ 60 s, < 80 % for ≥ 10 s")]
    public void Each_category_has_a_definition(PatientCategory category, string lines) =>
        Assert.Equal(lines, string.Join(", ", MustCatchDefinitions.For(category).Lines));

    [Fact]
    public void Every_default_says_where_its_numbers_come_from() =>
        Assert.All(Enum.GetValues<PatientCategory>(), c => Assert.Contains("unit policy, no source", MustCatchDefinitions.For(c).Source, StringComparison.Ordinal));

    /// <summary>The slow twin for one line without holes: consecutive seconds.</summary>
    [Fact]
    public void A_line_equals_counting_seconds() => Gen.Select(Gen.Select(Gen.Int[78, 92], Gen.Int[1, 30]).Array[1, 30], Gen.Int[79, 91], Gen.Int[1, 60], Gen.Bool).Sample((stretches, level, seconds, inclusive) =>
    {
        var rows = stretches.SelectMany(s => Enumerable.Repeat<decimal?>(s.Item1, s.Item2)).ToArray();
        var expected = new List<string>();
        for (int i = 0; i < rows.Length;)
        {
            int run = rows.Skip(i).TakeWhile(v => inclusive ? v <= level : v < level).Count();
            if (run >= seconds) expected.Add($"{i}-{i + run}:{rows.Skip(i).Take(run).Min():0}:1");
            i += Math.Max(run, 1);
        }

        var conditioning = ConditioningSettings.Default with { Validity = ValidityRule.None };
        var found = MustCatchFinder.Find(ConditionedSource.Even(rows, Duration.FromSeconds(1)), conditioning, MustCatchTables.Definition($"{(inclusive ? "<=" : "<")}{level}/{seconds}"));
        Assert.Equal(expected.Count == 0 ? "none" : string.Join(" ", expected), MustCatchTables.Describe(found));
    }, iter: 3000);
}
