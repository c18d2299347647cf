using Stillwatch.Signals;

namespace Stillwatch.Formats;

/// <summary>Collects issues: alike ones become one with a count, the first place kept. Bounded, whatever the input does.</summary>
/// <remarks>
/// Alike means the same code and the same <c>about</c> (a column, a text). Past <see cref="DifferentIssuesHeld"/> different
/// ones, the rest are counted under their code alone, so that counts stay complete while memory does not grow.
/// </remarks>
internal sealed class IssueLog
{
    internal const int DifferentIssuesHeld = 500;
    private const int FoundLengthShown = 80;

    private readonly Dictionary<(string Code, string About), ReadIssue> issues = [];

    public void Note(string code, string about, string place, string found, string expected, string assumed, long count = 1) =>
        Add(IssueSeverity.Note, code, about, place, found, expected, assumed, count);

    public void Doubt(string code, string about, string place, string found, string expected, string assumed, long count = 1) =>
        Add(IssueSeverity.Doubt, code, about, place, found, expected, assumed, count);

    public void Failure(string code, string about, string place, string found, string expected, string assumed, long count = 1) =>
        Add(IssueSeverity.Failure, code, about, place, found, expected, assumed, count);

    /// <summary>The gravest first, otherwise in the order of their first appearance.</summary>
    public IReadOnlyList<ReadIssue> ToList() => [.. issues.Values.OrderByDescending(i => i.Severity)];

    /// <summary>Counts one more of a kind that is there already, without making its texts again; false where it is not there.</summary>
    public bool TryCount(string code, string about)
    {
        if (!issues.TryGetValue((code, about), out var known)) return false;
        issues[(code, about)] = known with { Count = known.Count + 1 };
        return true;
    }

    /// <summary>What a file holds, made fit for a message: one line, bounded, quoted.</summary>
    public static string Show(ReadOnlySpan<char> text)
    {
        var shown = text.Trim();
        bool cut = shown.Length > FoundLengthShown;
        if (cut) shown = shown[..FoundLengthShown];
        return $"\"{string.Create(shown.Length, shown, static (to, from) =>
        {
            for (int i = 0; i < to.Length; i++) to[i] = char.IsControl(from[i]) ? '·' : from[i];
        })}{(cut ? "…" : "")}\"";
    }

    private void Add(IssueSeverity severity, string code, string about, string place, string found, string expected, string assumed, long count)
    {
        if (issues.Count >= DifferentIssuesHeld && !issues.ContainsKey((code, about))) about = "";
        if (issues.TryGetValue((code, about), out var known)) issues[(code, about)] = known with { Count = known.Count + count };
        else issues[(code, about)] = new ReadIssue(severity, code, place, found, expected, assumed, count);
    }
}
