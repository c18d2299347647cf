using Stillwatch.App.Pages;
using Stillwatch.App.Terminal;
using Stillwatch.Signals;

namespace Stillwatch.App.Tests;

/// <summary>What was met in reading, on a page for people.</summary>
public sealed class IssueListTests
{
    [Fact]
    public void One_fault_in_every_signal_does_not_drown_the_rest()
    {
        var alike = Enumerable.Range(1, 139).Select(n => new ReadIssue(IssueSeverity.Note, "signal.scale", $"signal {n}", "a", "b", "c"));
        var other = new ReadIssue(IssueSeverity.Note, "header.text", "header", "a", "b", "c");
        string page = PageOf([.. alike, other]);
        Assert.Contains("140 things", page, StringComparison.Ordinal);
        Assert.Equal(3, Lines(page, "Note, signal "));
        Assert.Contains("the same kind at 136 other places, the last signal 139", page, StringComparison.Ordinal);
        Assert.Equal(1, Lines(page, "Note, header"));
        Assert.Contains("--json lists all", page, StringComparison.Ordinal);
    }

    [Fact]
    public void What_could_not_be_read_stands_first_and_a_few_of_a_kind_stand_whole()
    {
        string page = PageOf([
            new ReadIssue(IssueSeverity.Note, "n", "line 1", "a", "b", "c"),
            new ReadIssue(IssueSeverity.Failure, "f", "line 9", "a", "b", "c"),
            new ReadIssue(IssueSeverity.Note, "n", "line 2", "a", "b", "c"),
        ]);
        Assert.True(page.IndexOf("NOT READ, line 9", StringComparison.Ordinal) < page.IndexOf("Note, line 1", StringComparison.Ordinal));
        Assert.DoesNotContain("the same kind at", page, StringComparison.Ordinal);
        Assert.DoesNotContain("--json", page, StringComparison.Ordinal);
    }

    private static int Lines(string page, string with) => page.Split('\n').Count(l => l.Contains(with, StringComparison.Ordinal));

    private static string PageOf(IReadOnlyList<ReadIssue> issues)
    {
        using var output = new StringWriter { NewLine = "\n" };
        IssueList.Write(new Page(Screen.Plain(output, output)), issues);
        return output.ToString();
    }
}
