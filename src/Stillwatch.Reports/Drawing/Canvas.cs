using System.Globalization;
using System.Text;

namespace Stillwatch.Reports.Drawing;

/// <summary>
/// Builds one SVG figure as plain text. Coordinates are pixels from the top left; every text is escaped; a coordinate that
/// is not a number is refused, because a browser would drop the shape without a word.
/// </summary>
internal sealed class Canvas
{
    private const string Font = "system-ui,'Segoe UI','Helvetica Neue',Arial,'Noto Sans',sans-serif";

    private readonly StringBuilder body = new();
    private readonly StringBuilder definitions = new();
    private readonly HashSet<string> defined = [];
    private readonly string title;
    private readonly string description;
    private int clips;

    /// <param name="id">Unique on its page: names inside the figure start with it.</param>
    /// <param name="width">Pixels.</param>
    /// <param name="height">Pixels.</param>
    /// <param name="title">What the figure is, for those who hear the page.</param>
    /// <param name="description">What it shows, in a sentence.</param>
    public Canvas(string id, double width, double height, string title, string description)
    {
        Id = id;
        Width = width;
        Height = height;
        this.title = title;
        this.description = description;
    }

    public string Id { get; }

    public double Width { get; }

    public double Height { get; }

    public static string Number(double value)
    {
        if (!double.IsFinite(value)) throw new ArgumentOutOfRangeException(nameof(value), value, "Found a coordinate that is not a finite number; a figure cannot be drawn with it.");
        string text = Math.Round(value, 1).ToString("0.#", CultureInfo.InvariantCulture);
        return text == "-0" ? "0" : text;
    }

    public void Rect(double x, double y, double width, double height, Paint paint, string? tip = null, double radius = 0)
    {
        body.Append("<rect x=\"").Append(Number(x)).Append("\" y=\"").Append(Number(y))
            .Append("\" width=\"").Append(Number(Math.Max(0, width))).Append("\" height=\"").Append(Number(Math.Max(0, height))).Append('"');
        if (radius > 0) body.Append(" rx=\"").Append(Number(radius)).Append('"');
        Close("rect", paint, tip);
    }

    public void Circle(double x, double y, double radius, Paint paint, string? tip = null)
    {
        body.Append("<circle cx=\"").Append(Number(x)).Append("\" cy=\"").Append(Number(y)).Append("\" r=\"").Append(Number(radius)).Append('"');
        Close("circle", paint, tip);
    }

    public void Line(double x1, double y1, double x2, double y2, Paint paint)
    {
        body.Append("<line x1=\"").Append(Number(x1)).Append("\" y1=\"").Append(Number(y1))
            .Append("\" x2=\"").Append(Number(x2)).Append("\" y2=\"").Append(Number(y2)).Append('"');
        Close("line", paint, null);
    }

    public void Path(PathText path, Paint paint, string? tip = null)
    {
        if (path.IsEmpty) return;
        body.Append("<path d=\"").Append(path).Append('"');
        Close("path", paint, tip);
    }

    public void Text(double x, double y, string text, TextStyle style)
    {
        body.Append("<text x=\"").Append(Number(x)).Append("\" y=\"").Append(Number(y)).Append('"');
        if (style.Size != TextStyle.Normal) body.Append(" font-size=\"").Append(Number(style.Size)).Append('"');
        if (style.Anchor != Anchor.Start) body.Append(" text-anchor=\"").Append(style.Anchor == Anchor.End ? "end" : "middle").Append('"');
        if (style.Fill != Ink.Text) body.Append(" fill=\"").Append(style.Fill).Append('"');
        if (style.Bold) body.Append(" font-weight=\"600\"");
        if (style.Halo is { } halo) body.Append(" stroke=\"").Append(halo).Append("\" stroke-width=\"3.5\" stroke-linejoin=\"round\" paint-order=\"stroke\"");
        if (style.RotateDegrees != 0) body.Append(" transform=\"rotate(").Append(Number(style.RotateDegrees)).Append(' ').Append(Number(x)).Append(' ').Append(Number(y)).Append(")\"");
        body.Append('>').Append(Markup.Escape(text)).Append("</text>\n");
    }

    /// <summary>What is drawn until the result is disposed shows inside this rectangle only.</summary>
    public IDisposable ClipTo(double x, double y, double width, double height)
    {
        string name = $"{Id}-clip{++clips}";
        definitions.Append("<clipPath id=\"").Append(name).Append("\"><rect x=\"").Append(Number(x)).Append("\" y=\"").Append(Number(y))
            .Append("\" width=\"").Append(Number(Math.Max(0, width))).Append("\" height=\"").Append(Number(Math.Max(0, height))).Append("\"/></clipPath>");
        body.Append("<g clip-path=\"url(#").Append(name).Append(")\">");
        return new EndOfGroup(body);
    }

    /// <summary>A fill of the given pattern, defined in this figure on first use.</summary>
    public string Fill(Pattern pattern)
    {
        string name = $"{Id}-{pattern.Name}";
        if (defined.Add(name))
        {
            definitions.Append("<pattern id=\"").Append(name).Append("\" width=\"").Append(pattern.Size).Append("\" height=\"").Append(pattern.Size)
                .Append("\" patternUnits=\"userSpaceOnUse\"").Append(pattern.IsSlanted ? " patternTransform=\"rotate(45)\"" : "").Append('>')
                .Append(pattern.Content).Append("</pattern>");
        }

        return $"url(#{name})";
    }

    /// <summary>The whole figure. Where it stands alone as a file the namespace it carries is what makes it a picture.</summary>
    public override string ToString()
    {
        var all = new StringBuilder(body.Length + definitions.Length + 600);
        all.Append("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 ").Append(Number(Width)).Append(' ').Append(Number(Height))
            .Append("\" width=\"").Append(Number(Width)).Append("\" height=\"").Append(Number(Height))
            .Append("\" role=\"img\" aria-labelledby=\"").Append(Id).Append("-t ").Append(Id).Append("-d\" font-family=\"").Append(Font)
            .Append("\" font-size=\"").Append(Number(TextStyle.Normal)).Append("\" fill=\"").Append(Ink.Text).Append("\">\n<title id=\"").Append(Id).Append("-t\">").Append(Markup.Escape(title))
            .Append("</title><desc id=\"").Append(Id).Append("-d\">").Append(Markup.Escape(description)).Append("</desc>\n");
        if (definitions.Length > 0) all.Append("<defs>").Append(definitions).Append("</defs>\n");
        return all.Append(body).Append("</svg>\n").ToString();
    }

    private void Close(string element, Paint paint, string? tip)
    {
        if (paint.Fill != Ink.Text) body.Append(" fill=\"").Append(paint.Fill ?? "none").Append('"');
        if (paint.Stroke is { } stroke)
        {
            body.Append(" stroke=\"").Append(stroke).Append('"');
            if (paint.Width != 1) body.Append(" stroke-width=\"").Append(Number(paint.Width)).Append('"');
            if (paint.Dash is { } dash) body.Append(" stroke-dasharray=\"").Append(dash).Append('"');
        }

        if (tip is null) body.Append("/>\n");
        else body.Append("><title>").Append(Markup.Escape(tip)).Append("</title></").Append(element).Append(">\n");
    }

    private sealed class EndOfGroup(StringBuilder body) : IDisposable
    {
        public void Dispose() => body.Append("</g>\n");
    }
}
