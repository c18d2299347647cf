using Stillwatch.Signals;

namespace Stillwatch.App.Pages;

/// <summary>What a reader met, in plain words: nothing was repaired without standing here.</summary>
internal static class IssueList
{
    public static void Write(Page page, IReadOnlyList<ReadIssue> issues, int most = 20)
    {
        page.Heading(issues.Count == 0 ? "Nothing odd was met in reading" : $"{Say.Count(issues.Count, "thing", "things")} met in reading");
        foreach (var issue in issues.OrderByDescending(i => i.Severity).Take(most)) page.Bullet(Words(issue));

        if (issues.Count > most) page.Note($"  {issues.Count - most} more: see --json.");
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
