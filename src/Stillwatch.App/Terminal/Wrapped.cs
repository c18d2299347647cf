namespace Stillwatch.App.Terminal;

/// <summary>Breaking text into lines at spaces.</summary>
public static class Wrapped
{
    /// <summary>A label on lines of its own, broken behind underscores and at spaces; a longer part keeps its head.</summary>
    /// <param name="label">As the file has it; --json has it whole.</param>
    /// <param name="width">Columns.</param>
    public static string Label(string label, int width)
    {
        if (label.Length <= width) return label;
        var lines = new List<string> { string.Empty };
        for (int start = 0, end; start < label.Length; start = end)
        {
            int at = label.AsSpan(start).IndexOfAny('_', ' ');
            end = at < 0 ? label.Length : start + at + 1;
            string part = label[start..end];
            if (lines[^1].Length > 0 && lines[^1].Length + part.TrimEnd().Length > width) lines.Add(string.Empty);
            lines[^1] += part;
        }

        return string.Join('\n', lines.Select(l => l.TrimEnd()).Select(l => l.Length > width ? l[..(width - 1)] + "…" : l));
    }

    /// <param name="text">Words; a line break in it is kept.</param>
    /// <param name="width">Columns; a longer word stands alone on its line.</param>
    public static IEnumerable<string> Lines(string text, int width)
    {
        foreach (string paragraph in text.Split('\n'))
        {
            string line = string.Empty;
            foreach (string word in paragraph.Split(' '))
            {
                if (line.Length > 0 && line.Length + 1 + word.Length > width)
                {
                    yield return line;
                    line = word;
                }
                else
                {
                    line = line.Length == 0 ? word : line + " " + word;
                }
            }

            yield return line;
        }
    }
}
