using System.Globalization;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Page;

namespace Stillwatch.Reports.Handover;

/// <summary>A page to hand over as HTML, which prints on the same paper as the PDF.</summary>
internal static class HandoverHtml
{
    private const string More = """
        main { max-width: 900px; }
        h2 { font-size: 1.08rem; margin: 1.3em 0 .35em; padding-top: .35em; border-top: 2px solid var(--ink); }
        h3 { font-size: 1rem; margin: 1em 0 .2em; }
        .lead { font-size: 1.12rem; font-weight: 600; max-width: none; }
        .warn { border: 2px solid var(--ink); padding: .45em .8em; max-width: none; font-weight: 600; }
        .fine, .fine li { color: var(--muted); font-size: .84rem; line-height: 1.4; max-width: none; overflow-wrap: anywhere; }
        td.n, th.n { white-space: normal; }
        .sign { display: flex; gap: 28px; margin: 2.4em 0 .6em; }
        .sign span { flex: 1; border-top: 1px solid var(--ink); padding-top: 3px; color: var(--muted); font-size: .84rem; }
        @media print {
          body { font-family: Arial, 'Liberation Sans', Helvetica, sans-serif; } /* as the PDF has it; wider ones do not fit one page */
          h1 { font-size: 1.9rem; }
          h2 { margin: .9em 0 .25em; }
          p { max-width: none; margin: .2em 0 .4em; }
          li { max-width: none; }
          figure { margin: .4em 0 0; }
          .plot svg { max-width: 86%; }
          figcaption p { margin: 0; }
          .banner { margin-bottom: 10px; }
          .tiles { margin: 6px 0 0; }
          .tile { padding: 4px 8px 4px 0; }
          .tile .label { min-height: 0; }
          table { margin: .1em 0 .3em; line-height: 1.25; }
          caption { padding: .2em 0; }
          tbody th { min-width: 16em; }
          .banner, .warn { padding: .3em .8em; }
          th, td { padding: 1px 12px 1px 0; }
          .sign { margin: 3em 0 .4em; }
          .fine, .fine li { font-size: .88rem; line-height: 1.3; }
          footer { margin-top: 1em; padding-top: .4em; }
        }
        """;

    public static void Write(HandoverDocument document, TextWriter writer)
    {
        var html = new HtmlText(writer, []);
        writer.Write("<!DOCTYPE html>\n<html lang=\"en-GB\"><head><meta charset=\"utf-8\"/><meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>");
        writer.Write("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\"/>");
        writer.Write($"<title>{Markup.Escape(document.Title)}</title>\n<style>\n{Style.Sheet}\n{More}\n@page {{ size: {document.Paper.Name}; margin: {document.Paper.Margin.ToString(CultureInfo.InvariantCulture)}mm; }}\n@media print {{ html {{ font-size: {(document.Paper == Paper.A4 ? "7.2" : "8.2")}pt; }} }}\n</style></head>\n<body><main>\n");
        if (document.IsInvented) html.Leaf("p", HandoverWords.Invented, "banner");
        html.Leaf("h1", document.Title);
        if (document.About.Length > 0) html.Leaf("p", document.About, "about");
        foreach (var block in document.Blocks) Add(html, block);
        html.Leaf("footer", HandoverWords.Foot(document));
        writer.Write("</main></body></html>\n");
    }

    private static void Add(HtmlText html, Block block)
    {
        switch (block)
        {
            case Block.Heading heading: html.Leaf("h2", heading.Words); break;
            case Block.Name name: html.Leaf("h3", name.Words); break;
            case Block.Lead lead: html.Leaf("p", lead.Words, "lead"); break;
            case Block.Warning warning: html.Leaf("p", warning.Words, "warn"); break;
            case Block.Prose prose: html.Leaf("p", prose.Words); break;
            case Block.Fine fine: html.Leaf("p", fine.Words, "fine"); break;
            case Block.Points points: html.List(points.Items, points.AreFine ? "fine" : null); break;
            case Block.Grid grid:
                using (html.Element("div", "wide")) html.Table(grid.Caption, grid.Heads, grid.Rows, grid.TextColumns);
                break;
            case Block.Drawn drawn:
                using (html.Element("figure"))
                {
                    if (drawn.Caption.Length > 0)
                        using (html.Element("figcaption")) html.Leaf("p", drawn.Caption);
                    using (html.Element("div", "plot")) html.Raw(drawn.Picture.ToSvg());
                }

                break;
            case Block.Tiles tiles:
                using (html.Element("div", "tiles"))
                {
                    foreach (var (label, value, more) in tiles.Items)
                    {
                        using (html.Element("div", "tile"))
                        {
                            html.Leaf("span", label, "label");
                            html.Leaf("span", value, "value");
                            html.Leaf("span", more, "more");
                        }
                    }
                }

                break;
            case Block.ToSign sign:
                using (html.Element("div", "sign"))
                    foreach (string label in sign.Labels) html.Leaf("span", label);
                break;
        }
    }
}
