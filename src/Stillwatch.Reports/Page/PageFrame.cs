using Stillwatch.Reports.Drawing;

namespace Stillwatch.Reports.Page;

/// <summary>What all pages have in common: nothing is fetched and nothing runs; invented data say so first; words and cautions stand at the end.</summary>
internal static class PageFrame
{
    /// <param name="writer">Stays open.</param>
    /// <param name="title">Of the page.</param>
    /// <param name="isInvented">Whether the data are.</param>
    /// <param name="software">Program and version.</param>
    /// <param name="words">Explained at the foot.</param>
    /// <param name="content">From the header to the method.</param>
    /// <param name="cautions">What the page is not for, a sentence each.</param>
    public static void Write(TextWriter writer, string title, bool isInvented, string software, IReadOnlyList<Glossary.Entry> words, Action<HtmlText> content, IReadOnlyList<string> cautions)
    {
        var html = new HtmlText(writer, words);
        writer.Write("<!DOCTYPE html>\n<html lang=\"en-GB\"><head><meta charset=\"utf-8\"/><meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>");
        // Nothing may be loaded, whatever a hostile label tries.
        writer.Write("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\"/>");
        writer.Write($"<title>{Markup.Escape(title)}</title>\n<style>\n{Style.Sheet}\n</style></head>\n<body><main>\n");
        if (isInvented) html.Leaf("p", "Invented data. No patient, ward or monitor stands behind these recordings; they show what the program does.", "banner");
        content(html);
        Glossary.Write(html, words);
        html.Leaf("h2", "What this report is not for", id: "cautions");
        html.List(cautions);
        html.Leaf("footer", $"{software}. {Cautions.Short}{(isInvented ? " The data are invented." : "")}");
        writer.Write("</main></body></html>\n");
    }
}
