using Stillwatch.Formats.Labels;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Csv.Layout;

/// <summary>How a file is laid out, found from its first lines.</summary>
/// <param name="Separator">Between cells.</param>
/// <param name="DecimalMark">In numbers.</param>
/// <param name="Headers">A name per column, empty names included; none where there is no header row.</param>
/// <param name="HeaderLineNumber">From 1; 0 without a header row.</param>
/// <param name="FirstRowLineNumber">The first line below header and units.</param>
/// <param name="Width">Cells of an ordinary row.</param>
/// <param name="Sample">The cells of the first rows, ragged ones included.</param>
internal sealed record CsvLayout(
    char Separator,
    char DecimalMark,
    IReadOnlyList<LabelName> Headers,
    int HeaderLineNumber,
    int FirstRowLineNumber,
    int Width,
    IReadOnlyList<string[]> Sample)
{
    private int[,]? shapeCounts; // of each column's sampled cells; counted when first asked for

    public bool HasHeader => HeaderLineNumber > 0;

    /// <summary>Columns there may be: of the header or of an ordinary row, whichever is wider.</summary>
    public int ColumnCount => Math.Max(Headers.Count, Width);

    public LabelName NameOf(int column) => column < Headers.Count ? Headers[column] : new LabelName("");

    /// <summary>The header, or the number of a column without one: "#3".</summary>
    public string LabelOf(int column) => NameOf(column).Raw is { Length: > 0 } name ? name : $"#{column + 1}";

    /// <summary>The labels of all columns for a message, bounded.</summary>
    public string DescribeColumns()
    {
        const int shown = 40;
        var labels = Enumerable.Range(0, Math.Min(ColumnCount, shown)).Select(c => $"\"{LabelOf(c)}\"");
        return string.Join(", ", labels) + (ColumnCount > shown ? $" and {ColumnCount - shown} more" : "");
    }

    /// <summary>The labels that may have been meant by one that is not there: those of its kind first; bounded.</summary>
    private string DescribeLikely(ChannelKind? meant)
    {
        const int shown = 12;
        var labels = Enumerable.Range(0, ColumnCount)
            .OrderBy(c => meant is not null && LabelVocabulary.KindOf(NameOf(c)) == meant ? 0 : 1)
            .Take(shown).Select(c => $"\"{LabelOf(c)}\"");
        return string.Join(", ", labels) + (ColumnCount > shown ? $" and {ColumnCount - shown} more (stillwatch inspect lists the channels)" : "");
    }

    /// <summary>How many of a column's sampled cells have a shape that matches.</summary>
    public int CountInSample(int column, Func<CellShape, bool> matches)
    {
        shapeCounts ??= CountShapes();
        int count = 0;
        foreach (var shape in Enum.GetValues<CellShape>())
        {
            if (matches(shape)) count += shapeCounts[column, (int)shape];
        }

        return count;
    }

    /// <summary>The 0-based column that the user names: by header, "#2" or "#-1".</summary>
    /// <exception cref="UnreadableFileException">No such column, or several of that name.</exception>
    public int Resolve(string reference, string fileName, ChannelKind? meant = null)
    {
        if (reference is ['#', .. var digits] && int.TryParse(digits, out int number))
        {
            int index = number > 0 ? number - 1 : ColumnCount + number;
            if (number != 0 && index >= 0 && index < ColumnCount) return index;
            throw NoSuchColumn(reference, meant, fileName, "the number counts from 1, or from -1 at the end");
        }

        string name = reference.Trim('"');
        foreach (var comparison in new[] { StringComparison.Ordinal, StringComparison.OrdinalIgnoreCase })
        {
            var columns = Enumerable.Range(0, Headers.Count).Where(c => Headers[c].Raw.Equals(name, comparison)).ToList();
            if (columns.Count == 1) return columns[0];
            if (columns.Count > 1)
                throw NoSuchColumn(reference, meant, fileName, $"{columns.Count} columns bear this name; say which by its number: {string.Join(", ", columns.Select(c => $"#{c + 1}"))}");
        }

        throw NoSuchColumn(reference, meant, fileName, HasHeader ? "the name is spelled otherwise" : "the file has no header row; name columns by number, e.g. #2");
    }

    private int[,] CountShapes()
    {
        var counts = new int[ColumnCount, Enum.GetValues<CellShape>().Length];
        foreach (var row in Sample)
        {
            for (int c = 0; c < Math.Min(row.Length, ColumnCount); c++) counts[c, (int)CellShapes.Of(row[c])]++;
        }

        return counts;
    }

    private UnreadableFileException NoSuchColumn(string reference, ChannelKind? meant, string fileName, string cause) =>
        new($"the columns {DescribeLikely(meant)}", $"the one column {reference} that was asked for", fileName, cause);
}
