using System.Text;

namespace Stillwatch.Accuracy.Page;

/// <summary>The table as a page of text: docs/accuracy.md, and what the terminal shows.</summary>
internal static class PageText
{
    public const string Fixed =
        "Parameters were fixed before a row was looked at: they come from published values or from rehearsal light of other seeds than those measured here. "
        + "Where a parameter was chosen or changed after its row had been seen, the row says so under \"changed afterwards\".";

    public static string Markdown(IReadOnlyList<AccuracyRow> rows)
    {
        var page = new StringBuilder();
        page.Append("""
            # Accuracy

            What the way from light to numbers reaches, measured by `eng/accuracy`; `eng/accuracy --write-docs` writes this page, and the check compares it with a new
            measurement (every number within one unit of its last digit, every word alike).


            """);
        page.Append(Fixed).Append("\n\n");
        page.Append("""
            Not for diagnosis and not a primary alarm. Rehearsal light is invented: what is reached on it is reached on a model, not on patients. A real recording here is one
            recording of one person: a check, not evidence. No curve here was calibrated on people; see [safety](safety.md).

            | data | figure | reach | measured | | source |
            |---|---|---|---|---|---|

            """);
        foreach (var row in rows)
        {
            string data = $"[{row.Data}](#{row.Key})";
            string origin = row.Origin;
            if (row.Figures.Count == 0) page.Append($"| {data} | | | not measured: {row.NotMeasured} | | {origin} |\n");
            foreach (var figure in row.Figures)
            {
                page.Append($"| {data} | {figure.Name} | {figure.Reach?.ToString() ?? "report"} | {figure.Shown} | {(figure.Verdict == "missed" ? "**missed**" : figure.Verdict)} | {origin} |\n");
                data = origin = "";
            }
        }

        foreach (var row in rows)
        {
            page.Append($"\n## {row.Key}\n\n{row.Data}. Source: {row.Source}\n\n{row.Method}\n\n");
            page.Append($"Changed afterwards: {(row.ChangedAfterwards.Count == 0 ? "nothing." : string.Join(" ", row.ChangedAfterwards))}\n");
            foreach (string remark in row.Remarks) page.Append($"\n{remark}\n");
        }

        return page.ToString();
    }

    public static string Terminal(IReadOnlyList<AccuracyRow> rows)
    {
        var text = new StringBuilder();
        text.Append(Fixed).Append("\n\n");
        foreach (var row in rows)
        {
            text.Append($"{row.Key}: {row.Data}\n  source: {row.Source}\n");
            if (row.Figures.Count == 0) text.Append($"  not measured: {row.NotMeasured}\n");
            int width = row.Figures.Count == 0 ? 0 : row.Figures.Max(f => f.Name.Length);
            foreach (var figure in row.Figures)
                text.Append($"  {figure.Name.PadRight(width)}  {figure.Shown,12}  {(figure.Reach is null ? "" : $"reach {figure.Reach}: {figure.Verdict}")}\n");
            foreach (string change in row.ChangedAfterwards) text.Append($"  changed afterwards: {change}\n");
            // A reason without its figure says nothing; the page keeps it, for it is compared as text.
            foreach (string remark in row.Figures.Count == 0 ? [] : row.Remarks) text.Append($"  {remark}\n");
        }

        int missed = rows.Count(r => r.IsMissed), measured = rows.Count(r => r.Figures.Count > 0);
        text.Append($"\n{measured} of {rows.Count} rows measured, {missed} with a figure missed.\n");
        return text.ToString();
    }
}
