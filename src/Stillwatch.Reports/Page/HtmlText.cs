using Stillwatch.Reports.Drawing;

namespace Stillwatch.Reports.Page;

/// <summary>
/// Writes HTML that is also well-formed XML. Texts and attributes are escaped here and nowhere else; only figures, which
/// escape for themselves, go in as they are.
/// </summary>
/// <param name="writer">Stays open.</param>
/// <param name="words">The words that the page explains: their mentions lead there.</param>
internal sealed class HtmlText(TextWriter writer, IReadOnlyList<Glossary.Entry> words)
{
    private readonly Stack<string> open = new();

    public IDisposable Element(string name, string? className = null, string? id = null)
    {
        writer.Write($"<{name}{Attribute("id", id)}{Attribute("class", className)}>");
        open.Push(name);
        return new Closing(this);
    }

    /// <summary>A block that the reader opens; open from the start where asked.</summary>
    public IDisposable Details(string summary, string? className = null, string? id = null)
    {
        var closing = Element("details", className, id);
        Leaf("summary", summary);
        return closing;
    }

    public void Leaf(string name, string text, string? className = null, string? id = null) =>
        writer.Write($"<{name}{Attribute("id", id)}{Attribute("class", className)}>{Markup.Escape(text)}</{name}>\n");

    /// <summary>A text whose first mention of each defined word leads to its definition.</summary>
    public void Prose(string name, string text, string? className = null) =>
        writer.Write($"<{name}{Attribute("class", className)}>{Glossary.Linked(Markup.Escape(text), words)}</{name}>\n");

    public void Paragraph(string text, string? className = null) => Prose("p", text, className);

    public void Link(string target, string text) => writer.Write($"<a href=\"#{Markup.Escape(target)}\">{Markup.Escape(text)}</a>");

    /// <summary>Already safe: a figure, or markup of this assembly's own.</summary>
    public void Raw(string safe) => writer.Write(safe);

    public void List(IEnumerable<string> items, string? className = null)
    {
        using (Element("ul", className))
            foreach (string item in items) Prose("li", item);
    }

    /// <summary>A table whose first <paramref name="textColumns"/> columns are words and the rest numbers.</summary>
    public void Table(string caption, IReadOnlyList<string> heads, IEnumerable<IReadOnlyList<string>> rows, int textColumns = 1)
    {
        using (Element("div", "scroll"))
        using (Element("table"))
        {
            Leaf("caption", caption);
            using (Element("thead"))
            using (Element("tr"))
                for (int i = 0; i < heads.Count; i++) writer.Write($"<th scope=\"col\"{Attribute("class", i < textColumns ? null : "n")}>{Markup.Escape(heads[i])}</th>");
            using (Element("tbody"))
            {
                foreach (var row in rows)
                {
                    using (Element("tr"))
                        for (int i = 0; i < row.Count; i++)
                        {
                            string cell = i == 0 ? "th" : "td";
                            writer.Write($"<{cell}{(i == 0 ? " scope=\"row\"" : "")}{Attribute("class", i < textColumns ? null : "n")}>{Markup.Escape(row[i])}</{cell}>");
                        }
                }
            }
        }
    }

    /// <summary>A figure with its heading, what to see in it, and the table behind it.</summary>
    public void Figure(string heading, string explanation, string svg, Action? tables = null, string tablesSummary = "The numbers behind this figure")
    {
        if (svg.Length == 0) return;
        using (Element("figure"))
        {
            using (Element("figcaption"))
            {
                Leaf("h4", heading);
                Paragraph(explanation);
            }

            using (Element("div", "plot")) Raw(svg);
            if (tables is null) return;
            using (Details(tablesSummary)) tables();
        }
    }

    private static string Attribute(string name, string? value) => value is null ? "" : $" {name}=\"{Markup.Escape(value)}\"";

    private void Close() => writer.Write($"</{open.Pop()}>\n");

    private sealed class Closing(HtmlText html) : IDisposable
    {
        public void Dispose() => html.Close();
    }
}
