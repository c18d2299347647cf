using nietras.SeparatedValues;
using Stillwatch.Formats.Csv.Text;

namespace Stillwatch.Formats.Csv.Rows;

/// <summary>The cells of one line, split by the separator alone or, where the line holds quotes, by <see cref="QuotedCells"/>.</summary>
internal readonly ref struct RowCells(SepReader.Row row, QuotedCells? quoted)
{
    private readonly SepReader.Row row = row;

    public int Count => quoted?.Count ?? row.ColCount;

    public ReadOnlySpan<char> Line => row.Span;

    /// <summary>A cell; blank beyond the end of the row.</summary>
    public ReadOnlySpan<char> this[int index] => index >= Count ? [] : quoted is null ? row[index].Span : quoted[index];

    public bool AreBlank(int from)
    {
        for (int i = from; i < Count; i++)
        {
            if (!this[i].IsWhiteSpace()) return false;
        }

        return true;
    }
}
