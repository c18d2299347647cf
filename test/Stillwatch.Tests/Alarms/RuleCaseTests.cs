namespace Stillwatch.Tests.Alarms;

/// <summary>Every line of the normative case table, and of our further tables in the same form, through the engine.</summary>
public sealed class RuleCaseTests
{
    private const string Normative = "rules-cases.txt";

    internal static readonly string[] Files =
    [
        Normative, "r01-period-and-arithmetic.txt", "r02-validity.txt", "r03-order.txt", "r04-averaging.txt", "r05-hold.txt", "r06-rounding.txt",
        "r07-high-limits.txt", "r08-backstop.txt", "r09-losses.txt",
    ];

    public static TheoryData<string, string, string> Cases()
    {
        var data = new TheoryData<string, string, string>();
        foreach (string file in Files)
        {
            foreach (string[] fields in RuleTables.Lines(file)) data.Add(file, fields[0], fields[1]);
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void The_engine_gives_the_signals_that_the_table_says(string file, string id, string shows)
    {
        var rule = new RuleCase(RuleTables.Lines(file).Single(f => f[0] == id));
        Assert.Equal(shows, rule.Shows);
        Assert.Equal(rule.Expected, rule.Describe(rule.Replay()));
    }

    [Fact]
    public void Every_case_has_its_own_id()
    {
        var ids = Cases().Select(c => c.Data.Item2).ToList();
        Assert.Equal(ids.Count, ids.Distinct().Count());
    }

    [Fact]
    public void Our_copy_of_the_normative_table_holds_every_line_of_it()
    {
        string original = Path.Combine(RuleTables.RepositoryRoot, "..", "shared", Normative);
        if (!File.Exists(original)) Assert.Skip("The normative table lies outside this checkout and is not here.");
        var ours = File.ReadLines(RuleTables.PathOf(Normative)).ToHashSet();
        Assert.DoesNotContain(File.ReadLines(original), line => !ours.Contains(line));
    }
}
