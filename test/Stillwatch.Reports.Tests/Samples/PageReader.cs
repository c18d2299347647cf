using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml;
using System.Xml.Linq;
using Stillwatch.Reports.Model;

namespace Stillwatch.Reports.Tests.Samples;

/// <summary>Reads pages and figures back, as strictly as XML allows.</summary>
internal static partial class PageReader
{
    public static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    public static string Write(ReportModel model)
    {
        using var writer = new StringWriter();
        HtmlReport.Write(model, writer);
        return writer.ToString();
    }

    public static XDocument Parse(string text)
    {
        using var reader = XmlReader.Create(new StringReader(text), new XmlReaderSettings { DtdProcessing = DtdProcessing.Ignore, XmlResolver = null });
        return XDocument.Load(reader);
    }

    public static XDocument Page(ReportModel model) => Parse(Write(model));

    /// <summary>All numbers of the attributes that place things.</summary>
    public static IEnumerable<(string Where, double Value)> Coordinates(XElement figure)
    {
        foreach (var element in figure.DescendantsAndSelf())
        {
            foreach (var attribute in element.Attributes().Where(a => a.Name.LocalName is "x" or "y" or "x1" or "x2" or "y1" or "y2" or "cx" or "cy" or "r" or "width" or "height" or "d" or "viewBox" or "transform"))
            {
                foreach (Match number in Number().Matches(attribute.Value))
                    yield return ($"{element.Name.LocalName} {attribute.Name} '{attribute.Value[..Math.Min(60, attribute.Value.Length)]}'", double.Parse(number.Value, CultureInfo.InvariantCulture));
            }
        }
    }

    public static string TextOf(XElement element) => Spaces().Replace(element.Value.Replace('\u00a0', ' '), " ").Trim();

    /// <summary>Cells of the table with this caption (or the start of one), row by row, heads first.</summary>
    public static List<string[]> Table(XDocument page, string caption) =>
        [.. page.Descendants("table").First(t => t.Element("caption")!.Value.StartsWith(caption, StringComparison.Ordinal)).Descendants("tr")
            .Select(row => row.Elements().Select(TextOf).ToArray())];

    [GeneratedRegex(@"-?\d+(\.\d+)?(?!\w)")]
    private static partial Regex Number();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();
}
