using Stillwatch.Signals;

namespace Stillwatch.App.Pages;

/// <summary>What a reader met, in plain words: nothing was repaired without standing here.</summary>
internal static class IssueList
{
    // A file of a hundred signals may say the same of each: three show what it is, and the rarer things stay on the page.
    private const int AlikeShown = 3;

    public static void Write(Page page, IReadOnlyList<ReadIssue> issues, int most = 20)
    {
        page.Heading(issues.Count == 0 ? "Nothing odd was met in reading" : $"{Say.Count(issues.Count, "thing", "things")} met in reading");
        var lines = issues.GroupBy(i => (i.Severity, i.Code)).OrderByDescending(g => g.Key.Severity).SelectMany(g => Alike([.. g])).ToList();
        foreach (var (line, _) in lines.Take(most)) page.Bullet(line);

        if (lines.Count > most) page.Note($"  {lines.Skip(most).Sum(l => l.Issues)} more: see --json.");
    }

    private static IEnumerable<(string Line, int Issues)> Alike(List<ReadIssue> alike)
    {
        int shown = alike.Count > AlikeShown + 1 ? AlikeShown : alike.Count;
        foreach (var issue in alike.Take(shown)) yield return (Words(issue), 1);
        if (shown < alike.Count)
            yield return ($"{Word(alike[0].Severity)} the same kind at {Say.Count(alike.Count - shown, "other place", "other places")}, the last {alike[^1].Place}; --json lists all [{alike[0].Code}]", alike.Count - shown);
    }

    public static string Words(ReadIssue issue)
    {
        string times = issue.Count > 1 ? $" ({issue.Count:#,0} times)" : string.Empty;
        return $"{Word(issue.Severity)} {issue.Place}: found {issue.Found}, expected {issue.Expected}; {issue.Assumed}{times} [{issue.Code}]";
    }

    private static string Word(IssueSeverity severity) => severity switch
    {
        IssueSeverity.Failure => "NOT READ,",
        IssueSeverity.Doubt => "In doubt,",
        _ => "Note,",
    };
}
