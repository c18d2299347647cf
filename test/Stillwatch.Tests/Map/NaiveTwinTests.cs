using System.Globalization;
using Xunit;

namespace Stillwatch.Tests.Map;

/// <summary>The twin is only worth comparing with if it passes the rules' own cases.</summary>
public sealed class NaiveTwinTests
{
    [Fact]
    public void The_naive_twin_passes_every_line_of_the_rules_cases()
    {
        var failures = new List<string>();
        int cases = 0;
        foreach (string line in File.ReadLines(CasesPath()))
        {
            if (line.Length == 0 || line[0] == '#') continue;
            cases++;
            var (id, series, settings, expected) = Parse(line);
            string found = Describe(NaiveTwin.TwinSignals(series, settings));
            if (found != expected) failures.Add($"{id}: found {found}, expected {expected}");
        }

        Assert.True(cases >= 66, $"Found {cases} cases, expected at least the 66 of the rules.");
        Assert.True(failures.Count == 0, string.Join('\n', failures));
    }

    private static string Describe(IReadOnlyList<(long start, long end, string how)> signals) =>
        signals.Count == 0 ? "none" : string.Join(' ', signals.Select(s => $"{s.start / 1000m:0.###}-{s.end / 1000m:0.###}:{s.how}"));

    private static (string Id, TwinSeries Series, TwinSettings Settings, string Expected) Parse(string line)
    {
        string[] f = [.. line.Split('|').Select(x => x.Trim())];
        Assert.True(f.Length == 12, $"Found {f.Length} fields, expected 12: {line}");
        long period = 1000;
        var rows = new List<(long, decimal?)>();
        foreach (string word in f[2].Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (word[0] == '@')
            {
                period = 1000 * long.Parse(word[1..]);
                continue;
            }

            string[] parts = word.Split('*');
            decimal? value = parts[0] == "." ? null : Number(parts[0]);
            for (int i = 0; i < (parts.Length > 1 ? int.Parse(parts[1]) : 1); i++) rows.Add((rows.Count * period, value));
        }

        return (f[0], new TwinSeries(rows, period), new TwinSettings
        {
            Limit = Number(f[3].TrimStart('>')),
            High = f[3][0] == '>',
            DelaySeconds = Number(f[4]),
            Area = Number(f[5]),
            Margin = Number(f[6]),
            AveragingSeconds = Number(f[7]),
            GapToleranceSeconds = Number(f[8]),
            Standard = f[9] == "standard",
            Rounds = f[10] == "display",
        }, f[11]);
    }

    private static decimal Number(string text) => decimal.Parse(text, CultureInfo.InvariantCulture);

    /// <summary>test/rules/rules-cases.txt, found upwards from the test's own folder; or beside the checkout.</summary>
    private static string CasesPath()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            string inside = Path.Combine(folder.FullName, "test", "rules", "rules-cases.txt");
            if (File.Exists(inside)) return inside;
            string beside = Path.Combine(folder.FullName, "..", "shared", "rules-cases.txt");
            if (File.Exists(Path.Combine(folder.FullName, "Stillwatch.slnx")) && File.Exists(beside)) return beside;
        }

        throw new FileNotFoundException("Rules cases: found neither test/rules/rules-cases.txt in the repository nor ../shared/rules-cases.txt beside it.");
    }
}
