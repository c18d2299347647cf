namespace Stillwatch.App.Terminal;

/// <summary>Breaking text into lines at spaces.</summary>
public static class Wrapped
{
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
