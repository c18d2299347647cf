using Stillwatch.Reports.Drawing;

namespace Stillwatch.Reports.Handover;

/// <summary>A figure that leaves its page, with what the page says of it: a picture travels alone, and must not become somebody's night.</summary>
internal static class WordedFigure
{
    private const double Above = 22;
    private const double LineHeight = 15;
    private const double Least = 560; // narrower, the words would become a column beside nothing

    private static readonly TextStyle Fine = new(11.5, Fill: Ink.Muted);
    private static readonly TextStyle Strong = new(12.5, Bold: true);

    public static Picture Of(Picture figure, HandoverDocument document)
    {
        if (figure.IsEmpty) return figure;
        double width = Math.Max(figure.Width, Least), y = figure.Height + Above;
        List<Shape> shapes = [.. figure.Shapes];
        foreach (var (words, style) in Words(document))
        {
            foreach (string line in Wrapped(words, style, width))
            {
                shapes.Add(new Shape.Text(0, y, line, style));
                y += LineHeight;
            }
        }

        return new Picture(figure.Id, width, y, figure.Title, figure.Description, shapes);
    }

    private static IEnumerable<(string Words, TextStyle Style)> Words(HandoverDocument document)
    {
        if (document.IsInvented) yield return (HandoverWords.Invented, Strong);
        yield return (document.About.Length > 0 ? $"{document.Title}. {document.About}" : document.Title, Strong);
        foreach (var block in document.Blocks)
        {
            if (block is Block.Fine fine) yield return (fine.Words, Fine);
            if (block is Block.Points { AreFine: true } points)
                foreach (string item in points.Items) yield return (item, Fine);
        }

        yield return (HandoverWords.Foot(document), Fine);
    }

    private static IEnumerable<string> Wrapped(string words, TextStyle style, double room)
    {
        string line = "";
        foreach (string word in words.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (line.Length > 0 && style.WidthOf($"{line} {word}") > room)
            {
                yield return line;
                line = "";
            }

            string rest = word;
            while (style.WidthOf(rest) > room) // a hash or a name without a blank
            {
                int fits = rest.Length - 1;
                while (fits > 1 && style.WidthOf(rest[..fits]) > room) fits--;
                yield return rest[..fits];
                rest = rest[fits..];
            }

            line = line.Length > 0 ? $"{line} {rest}" : rest;
        }

        if (line.Length > 0) yield return line;
    }
}
