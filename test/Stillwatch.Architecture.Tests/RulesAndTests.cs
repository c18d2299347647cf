using System.Text;
using System.Text.RegularExpressions;

namespace Stillwatch.Architecture.Tests;

/// <summary>Every rule id is named by a test, and docs/rules-and-tests.md, made from the test sources, says by which.</summary>
public class RulesAndTests
{
    private const string Page = "docs/rules-and-tests.md";

    // id | the rule in a few words; the lines of R14 are rules of their own.
    private const string Rules = """
        R1     | Period and arithmetic: decimals compare as decimals, times to 0.001 s
        R2     | Validity: what is not a value, and the doubted jump
        R3     | Order: validity, averaging, hold, rounding, comparison
        R4     | Averaging: mean of the valid samples in the window, half of it needed
        R5     | Hold: a value holds until the next, at most period plus gap tolerance
        R6     | Rounding: as displayed, half away from zero
        R7     | Limit, delay, area threshold, clear margin
        R8     | Backstop: nothing may hold it back; one signal with the low limit
        R9     | Lost: nothing stops silently; back within 60 s goes on
        R10    | Ties: inputs before deadlines; deadlines before t before the sample at t
        R11    | Late and reordered live data never change a past decision
        R12    | Counting: starts of signals, physiological and technical apart
        R13    | Must-catch event: in time, late, missed
        R14.1  | Proposal: zero misses are not zero risk; exact bounds
        R14.2  | Proposal: staff answered, so events were shortened
        R14.3  | Proposal: one artefact mark never removes an event
        R14.4  | Proposal: invalid time next to low values is possibly hypoxaemic
        R14.5  | Proposal: only inside the category's bounds
        R14.6  | Proposal: the whole search inside each fold
        R14.7  | Proposal: no transfer across categories, averaging, oxygen, period
        R14.8  | Proposal: one patient is descriptive
        R14.9  | Proposal: less physiological with more technical load is no improvement
        R14.10 | Proposal: a random sample of stretches that did not signal, and the share not reviewed
        """;

    private sealed record Rule(string Id, string Words)
    {
        // R1 is not named by R10 or R14.1, R14.1 not by R14.10; an underscore of a test name does not hide it. Test names may also
        // say Rule_9_…, and, in a file about R14, Line_3_….
        public bool IsNamedIn(string text) =>
            Regex.IsMatch(text, $@"(?<![A-Za-z0-9])({Regex.Escape(Id)}|Rule_{Id[1..].Replace('.', '_')})(?!\.?[0-9])")
            || (Id.StartsWith("R14.", StringComparison.Ordinal) && text.Contains("R14", StringComparison.Ordinal) && text.Contains($" Line_{Id[4..]}_", StringComparison.Ordinal));
    }

    private static readonly Rule[] All = [.. Rules.Split('\n').Select(l => l.Split('|', StringSplitOptions.TrimEntries)).Select(c => new Rule(c[0], c[1]))];

    public static TheoryData<string> Ids => [.. All.Select(r => r.Id)];

    [Theory]
    [MemberData(nameof(Ids))]
    public void Every_rule_is_named_by_a_test(string id)
    {
        var rule = All.Single(r => r.Id == id);
        Assert.True(NamedBy(rule).Any(), $"Found no test that names {id} ({rule.Words}); expected the id in its name, its summary or its table.");
    }

    [Fact]
    public void The_page_of_the_rules_themselves_holds_each_of_them()
    {
        var headings = Checkout.Read("docs/rules.md").Split('\n').Where(l => l.StartsWith("## R", StringComparison.Ordinal)).Select(l => l.Split(' ')[1]);
        Assert.Equal(All.Select(r => r.Id.Split('.')[0]).Distinct(), headings);
    }

    [Fact]
    public void The_page_of_rules_and_tests_is_up_to_date()
    {
        var expected = MakePage();
        if (Environment.GetEnvironmentVariable("STILLWATCH_WRITE_DOCS") == "1") File.WriteAllText(Path.Combine(Checkout.Root, Page), expected);
        Assert.True(Checkout.Holds(Page) && Checkout.Read(Page) == expected, $"{Page} is not what the test sources give; './check --write-docs' writes it anew.");
    }

    [Theory]
    [InlineData("R1", "R10 and R14.1", false)]
    [InlineData("R14.1", "R14.10", false)]
    [InlineData("R7", "R7_the_delay_is_strict", true)]
    [InlineData("R7", "(rules R6, R7).", true)]
    [InlineData("R7", "WR7", false)]
    [InlineData("R9", "Rule_9_nothing_stops_silently", true)]
    [InlineData("R1", "Rule_12_operators_change_no_signal", false)]
    [InlineData("R14.3", "class RuleR14Tests void Line_3_one_mark_is_not_enough", true)]
    [InlineData("R14.1", "class RuleR14Tests void Line_10_prints_the_share", false)]
    public void The_check_itself_tells_rule_ids_apart(string id, string text, bool named) =>
        Assert.Equal(named, new Rule(id, "").IsNamedIn(text));

    // This project is about the house: its own mentions of a rule test nothing of the rule.
    private static IEnumerable<string> NamedBy(Rule rule) => Tests.Files
        .Where(f => !f.StartsWith("test/Stillwatch.Architecture.Tests/", StringComparison.Ordinal))
        .Where(f => rule.IsNamedIn(Checkout.Read(f)));

    private static string MakePage()
    {
        var page = new StringBuilder("""
            # Rules and their tests

            Which test files name which of the [rules](rules.md). Made from the test sources by `./check --write-docs`; a test holds it up to date.

            | rule | in a few words | tests |
            |---|---|---|

            """);
        foreach (var rule in All)
            page.Append($"| {rule.Id} | {rule.Words} | {string.Join(", ", NamedBy(rule).Select(f => $"[{Path.GetFileName(f)}](../{f})"))} |\n");
        return page.ToString();
    }
}
