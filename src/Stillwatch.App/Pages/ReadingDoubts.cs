using Stillwatch.App.Jobs;
using Stillwatch.Signals;

namespace Stillwatch.App.Pages;

/// <summary>Which column each recording's SpO2 came from, and what was in doubt in reading: a proposal stands on both.</summary>
internal static class ReadingDoubts
{
    private const int ColumnsShown = 8;
    private const int DoubtsShown = 8;

    public static void Write(Page page, IReadOnlyList<TunedRecording> recordings)
    {
        page.Heading("Where the numbers come from");
        var columns = recordings.GroupBy(r => r.ChannelWords).OrderByDescending(g => g.Count()).ToList();
        foreach (var column in columns.Take(ColumnsShown)) page.Bullet($"SpO2 from the column {column.Key}: {Files([.. column], recordings.Count)}");
        if (columns.Count > ColumnsShown) page.Note($"  {columns.Count - ColumnsShown} more columns: see --json.");
        // The same doubt of many files is said once, with the words of the first of them.
        var doubts = recordings
            .SelectMany(r => r.Loaded.Issues.Where(i => i.Severity >= IssueSeverity.Doubt).Select(i => (Recording: r, Issue: i)))
            .GroupBy(d => (d.Issue.Code, d.Issue.Assumed))
            .OrderByDescending(g => g.First().Issue.Severity).ToList();
        foreach (var doubt in doubts.Take(DoubtsShown))
            page.Bullet((recordings.Count > 1 ? Files([.. doubt.Select(d => d.Recording).Distinct()], recordings.Count) + ". " : string.Empty) + IssueList.Words(doubt.First().Issue));
        if (doubts.Count > DoubtsShown) page.Note($"  {doubts.Count - DoubtsShown} more doubts: see --json, or stillwatch inspect.");
    }

    private static string Files(IReadOnlyList<TunedRecording> some, int all) => some.Count switch
    {
        1 => some[0].Loaded.File.Name,
        2 when all == 2 => "both recordings",
        _ when some.Count == all => $"all {all} recordings",
        2 => $"{some[0].Loaded.File.Name} and {some[1].Loaded.File.Name}",
        _ => $"{some[0].Loaded.File.Name} and {some.Count - 1} more",
    };
}
