using Stillwatch.Reports.Model;
using Stillwatch.Reports.Page;

namespace Stillwatch.Reports;

/// <summary>Writes a page about numbers that were derived from light: as self-contained as <see cref="HtmlReport"/>.</summary>
public static class LightReport
{
    /// <summary>The same model gives the same page, byte for byte. The writer stays open.</summary>
    public static void Write(LightReportModel model, TextWriter writer)
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentNullException.ThrowIfNull(writer);
        PageFrame.Write(writer, model.Title, model.IsInvented, model.Provenance.Software, Glossary.OfLight, html =>
        {
            using (html.Element("header"))
            {
                html.Leaf("h1", model.Title);
                html.Leaf("p", LightPart.About(model.Light), "about");
                html.Leaf("p", model.Cautions[0], "about assumed");
                html.Leaf("p", Page.Cautions.Short, "about");
            }

            LightPart.Answer(html, model.Light);
            using (html.Element("nav", "contents"))
            {
                html.Link("figures", "Light and numbers");
                html.Link("method", "How the numbers were made");
                html.Link("words", "What the words mean");
                html.Link("cautions", "What this is not for");
            }

            html.Leaf("h2", "Light and numbers", id: "figures");
            LightPart.Figures(html, model.Light);
            LightPart.Method(html, model.Light);
            MethodPart.FilesAndSoftware(html, model.Provenance);
        }, [.. model.Cautions, .. Page.Cautions.Full.Take(2)]);
    }
}
