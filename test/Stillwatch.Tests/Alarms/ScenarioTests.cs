using Stillwatch.Tests.Fidelity;

namespace Stillwatch.Tests.Alarms;

/// <summary>Tables of things that happen around a patient: operators, sources, late rows, ties, changes of settings.</summary>
public sealed class ScenarioTests
{
    private static readonly string[] Files = ["r09-technical-conditions.txt", "r10-ties.txt", "r11-late-rows.txt", "r12-operator-states.txt", "settings-changes.txt"];

    public static TheoryData<string, string, string> Scenarios()
    {
        var data = new TheoryData<string, string, string>();
        foreach (string file in Files)
        {
            foreach (string[] fields in RuleTables.Lines(file)) data.Add(file, fields[0], fields[1]);
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(Scenarios))]
    public void The_engine_does_what_the_table_says(string file, string id, string shows)
    {
        string[] fields = RuleTables.Lines(file).Single(f => f[0] == id);
        var scenario = new Scenario(fields);
        Assert.Equal(
            (shows, fields[5], Or(fields[6], scenario.Heard), Or(fields[7], scenario.Shown), fields[8]),
            (fields[1], scenario.Signals, scenario.Heard, scenario.Shown, scenario.Notes));
    }

    [Fact]
    public void No_table_is_forgotten()
    {
        var played = RuleCaseTests.Files.Concat(Files).Append(FidelityCaseTests.File).Order();
        Assert.Equal(Directory.GetFiles(RuleTables.PathOf(""), "*.txt").Select(Path.GetFileName).Order(), played);
    }

    [Fact]
    public void Every_scenario_has_its_own_id()
    {
        var ids = Scenarios().Select(s => s.Data.Item2).ToList();
        Assert.Equal(ids.Count, ids.Distinct().Count());
    }

    private static string Or(string expected, string found) => expected == "*" ? found : expected;
}
