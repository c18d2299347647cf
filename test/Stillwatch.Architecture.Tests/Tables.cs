namespace Stillwatch.Architecture.Tests;

/// <summary>Markdown tables as rows of cells.</summary>
internal static class Tables
{
    /// <summary>All rows of all tables whose first heading is <paramref name="firstHeading"/>, without headings and rules.</summary>
    public static IReadOnlyList<string[]> Rows(string markdown, string firstHeading)
    {
        var rows = new List<string[]>();
        bool inTable = false;
        foreach (var line in markdown.Split('\n'))
        {
            if (!line.StartsWith('|'))
            {
                inTable = false;
                continue;
            }

            // A bar inside a cell is written \| in Markdown.
            var cells = line.Trim().Trim('|').Replace("\\|", "\u0001", StringComparison.Ordinal).Split('|')
                .Select(c => c.Trim().Replace('\u0001', '|')).ToArray();
            if (!inTable)
            {
                inTable = cells[0] == firstHeading;
                continue;
            }

            if (!cells[0].StartsWith("---", StringComparison.Ordinal)) rows.Add(cells);
        }

        return rows;
    }
}
