using Stillwatch.Replay.Fidelity;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Fidelity;

/// <summary>Every line of the table of replay and log: which signals are the same one.</summary>
public sealed class FidelityCaseTests
{
    public const string File = "fidelity-cases.txt";

    public static TheoryData<string, string> Cases()
    {
        var data = new TheoryData<string, string>();
        foreach (string[] fields in RuleTables.Lines(File)) data.Add(fields[0], fields[1]);
        return data;
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Replay_and_log_are_paired_as_the_table_says(string id, string shows)
    {
        string[] fields = RuleTables.Lines(File).Single(f => f[0] == id);
        Assert.Equal(8, fields.Length);
        Assert.Equal(shows, fields[1]);
        var (replayed, logged) = (Times(fields[2]), Times(fields[3]));
        var pairs = SignalMatcher.Match(logged, replayed, Times(fields[4])[0]);
        Assert.Equal(fields[5], Words(pairs.Select(p => $"{Seconds(replayed[p.Right])}={Seconds(logged[p.Left])}")));
        Assert.Equal(fields[6], Words(Enumerable.Range(0, logged.Length).Where(i => pairs.All(p => p.Left != i)).Select(i => Seconds(logged[i]))));
        Assert.Equal(fields[7], Words(Enumerable.Range(0, replayed.Length).Where(i => pairs.All(p => p.Right != i)).Select(i => Seconds(replayed[i]))));
    }

    private static long[] Times(string text) => text == "none" ? [] : [.. text.Split(' ').Select(t => (long)(decimal.Parse(t) * 1000))];

    private static string Seconds(long milliseconds) => (milliseconds / 1000m).ToString("0.###");

    private static string Words(IEnumerable<string> parts) => string.Join(' ', parts) is { Length: > 0 } text ? text : "none";
}
