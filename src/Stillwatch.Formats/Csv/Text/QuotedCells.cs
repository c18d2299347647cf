namespace Stillwatch.Formats.Csv.Text;

/// <summary>
/// Splits a line that holds quotes into cells, in buffers used again for every line. A quoted cell may hold separators and
/// doubled quotes; a line end ends the row even inside quotes, so that one stray quote cannot swallow the rest of a file.
/// </summary>
internal sealed class QuotedCells
{
    private char[] text = new char[256];
    private int[] ends = new int[16];
    private int length;

    public int Count { get; private set; }

    public ReadOnlySpan<char> this[int index]
    {
        get
        {
            int start = index == 0 ? 0 : ends[index - 1];
            return text.AsSpan(start, ends[index] - start);
        }
    }

    /// <returns>False where a quote is still open at the end of the line; the cells then are those up to there.</returns>
    public bool Split(ReadOnlySpan<char> line, char separator)
    {
        if (text.Length < line.Length) text = new char[Math.Max(line.Length, text.Length * 2)];
        length = 0;
        Count = 0;
        bool closed = true;
        int at = 0;
        while (true)
        {
            int quote = at;
            while (quote < line.Length && line[quote] == ' ') quote++;
            if (quote < line.Length && line[quote] == '"') at = TakeQuoted(line, quote + 1, ref closed);
            int end = line[at..].IndexOf(separator);
            var plain = end < 0 ? line[at..] : line.Slice(at, end);
            plain.CopyTo(text.AsSpan(length));
            length += plain.Length;
            EndCell();
            if (end < 0) return closed;
            at += end + 1;
        }
    }

    /// <summary>The cells of a line as strings; for the few lines at the top of a file.</summary>
    public string[] ToStrings(ReadOnlySpan<char> line, char separator)
    {
        Split(line, separator);
        var cells = new string[Count];
        for (int i = 0; i < cells.Length; i++) cells[i] = this[i].ToString();
        return cells;
    }

    // What stands between the quotes; returns where the rest of the cell begins.
    private int TakeQuoted(ReadOnlySpan<char> line, int at, ref bool closed)
    {
        while (at < line.Length)
        {
            if (line[at] != '"')
            {
                text[length++] = line[at++];
            }
            else if (at + 1 < line.Length && line[at + 1] == '"')
            {
                text[length++] = '"';
                at += 2;
            }
            else
            {
                return at + 1;
            }
        }

        closed = false;
        return at;
    }

    private void EndCell()
    {
        if (Count == ends.Length) Array.Resize(ref ends, ends.Length * 2);
        ends[Count++] = length;
    }
}
