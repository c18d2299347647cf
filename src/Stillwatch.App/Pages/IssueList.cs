using Stillwatch.Signals;

namespace Stillwatch.App.Pages;

/// <summary>What a reader met, in plain words: nothing was repaired without standing here.</summary>
internal static class IssueList
{
    private const int ShownOfOneKind = 3;

    public static void Write(Page page, IReadOnlyList<ReadIssue> issues, int most = 20)
    {
        page.Heading(issues.Count == 0 ? "Nothing odd was met in reading" : $"{Say.Count(issues.Count, "thing", "things")} met in reading");
        int shown = 0;
        // A file of 139 signals with one fault has 139 times the same line: the others below must not drown in it.
        foreach (var alike in issues.OrderByDescending(i => i.Severity).GroupBy(i => (i.Severity, i.Code)))
        {
            var first = alike.Take(Math.Min(ShownOfOneKind, most - shown)).ToList();
            shown += first.Count;
            foreach (var issue in first) page.Bullet(Words(issue));
            int left = alike.Count() - first.Count;
            if (left > 0 && first.Count > 0) page.Bullet($"{Say.Count(left, "more", "more")} of the same kind, elsewhere in the file [{alike.Key.Code}]");
        }

        if (issues.GroupBy(i => (i.Severity, i.Code)).Any(g => g.Count() > ShownOfOneKind) || shown < issues.Count) page.Note("  --json lists each.");
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
