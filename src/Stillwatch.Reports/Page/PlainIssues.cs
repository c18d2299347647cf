using Stillwatch.Reports.Wording;
using Stillwatch.Signals;

namespace Stillwatch.Reports.Page;

/// <summary>What a reader met in a file, in plain words.</summary>
internal static class PlainIssues
{
    private const int AtMost = 40;

    public static void Write(HtmlText html, IReadOnlyList<ReadIssue> issues)
    {
        if (issues.Count == 0)
        {
            html.Paragraph("Nothing unusual was found while reading the file.");
            return;
        }

        html.List(issues.OrderByDescending(i => i.Severity).Take(AtMost).Select(Words));
        if (issues.Count > AtMost) html.Paragraph($"And {Wording.Words.Count(issues.Count - AtMost, "more", "more")}, all listed by the inspect command.", "note");
    }

    public static string Words(ReadIssue issue)
    {
        string weight = issue.Severity switch
        {
            IssueSeverity.Failure => "Could not be read. ",
            IssueSeverity.Doubt => "May change a number. ",
            _ => "",
        };
        string found = $"{Start(issue.Place)}: found {End(issue.Found)}";
        if (issue.Expected.Length > 0) found += $"; expected {End(issue.Expected)}";
        string text = $"{weight}{found}.";
        if (issue.Assumed.Length > 0) text += $" {Start(End(issue.Assumed))}.";
        return issue.Count > 1 ? $"{text} ({Wording.Words.Number(issue.Count, 0)} alike; this is the first.)" : text;
    }

    private static string Start(string text) => text.Length > 0 ? char.ToUpperInvariant(text[0]) + text[1..] : "Somewhere";

    private static string End(string text) => text.TrimEnd('.', ' ');
}
