using System.Text;

namespace Stillwatch.Reports.Drawing;

/// <summary>A picture as SVG text: every text is escaped. Where it stands alone as a file the namespace it carries is what makes it a picture.</summary>
internal sealed class SvgWriter
{
    private const string Font = "system-ui,'Segoe UI','Helvetica Neue',Arial,'Noto Sans',sans-serif";

    private readonly StringBuilder body = new();

    private SvgWriter()
    {
    }

    public static string Write(Picture picture)
    {
        var writer = new SvgWriter();
        foreach (var shape in picture.Shapes) writer.Add(shape);
        string id = picture.Id;
        string definitions = Definitions(picture);
        var all = new StringBuilder(writer.body.Length + definitions.Length + 600);
        all.Append("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 ").Append(Canvas.Number(picture.Width)).Append(' ').Append(Canvas.Number(picture.Height))
            .Append("\" width=\"").Append(Canvas.Number(picture.Width)).Append("\" height=\"").Append(Canvas.Number(picture.Height))
            .Append("\" role=\"img\" aria-labelledby=\"").Append(id).Append("-t ").Append(id).Append("-d\" font-family=\"").Append(Font)
            .Append("\" font-size=\"").Append(Canvas.Number(TextStyle.Normal)).Append("\" fill=\"").Append(Ink.Text).Append("\">\n<title id=\"").Append(id).Append("-t\">").Append(Markup.Escape(picture.Title))
            .Append("</title><desc id=\"").Append(id).Append("-d\">").Append(Markup.Escape(picture.Description)).Append("</desc>\n");
        if (definitions.Length > 0) all.Append("<defs>").Append(definitions).Append("</defs>\n");
        return all.Append(writer.body).Append("</svg>\n").ToString();
    }

    private static string Definitions(Picture picture)
    {
        var text = new StringBuilder();
        foreach (var shape in picture.Shapes)
        {
            if (shape is Shape.PatternUsed(var name, var pattern))
            {
                text.Append("<pattern id=\"").Append(name).Append("\" width=\"").Append(pattern.Size).Append("\" height=\"").Append(pattern.Size)
                    .Append("\" patternUnits=\"userSpaceOnUse\"").Append(pattern.IsSlanted ? " patternTransform=\"rotate(45)\"" : "").Append('>')
                    .Append(pattern.Content).Append("</pattern>");
            }
            else if (shape is Shape.Clip clip)
            {
                text.Append("<clipPath id=\"").Append(clip.Name).Append("\"><rect x=\"").Append(Canvas.Number(clip.X)).Append("\" y=\"").Append(Canvas.Number(clip.Y))
                    .Append("\" width=\"").Append(Canvas.Number(clip.Width)).Append("\" height=\"").Append(Canvas.Number(clip.Height)).Append("\"/></clipPath>");
            }
        }

        return text.ToString();
    }

    private void Add(Shape shape)
    {
        switch (shape)
        {
            case Shape.Rect r:
                Open("rect", ("x", r.X), ("y", r.Y), ("width", r.Width), ("height", r.Height));
                if (r.Radius > 0) body.Append(" rx=\"").Append(Canvas.Number(r.Radius)).Append('"');
                Close("rect", r.Paint, r.Tip);
                break;
            case Shape.Circle c:
                Open("circle", ("cx", c.X), ("cy", c.Y), ("r", c.Radius));
                Close("circle", c.Paint, c.Tip);
                break;
            case Shape.Line l:
                Open("line", ("x1", l.X1), ("y1", l.Y1), ("x2", l.X2), ("y2", l.Y2));
                Close("line", l.Paint, null);
                break;
            case Shape.Path p:
                body.Append("<path d=\"").Append(p.Strokes).Append('"');
                Close("path", p.Paint, p.Tip);
                break;
            case Shape.Text t:
                Text(t);
                break;
            case Shape.Clip clip:
                body.Append("<g clip-path=\"url(#").Append(clip.Name).Append(")\">");
                break;
            case Shape.EndOfClip:
                body.Append("</g>\n");
                break;
        }
    }

    private void Text(Shape.Text text)
    {
        var style = text.Style;
        Open("text", ("x", text.X), ("y", text.Y));
        if (style.Size != TextStyle.Normal) body.Append(" font-size=\"").Append(Canvas.Number(style.Size)).Append('"');
        if (style.Anchor != Anchor.Start) body.Append(" text-anchor=\"").Append(style.Anchor == Anchor.End ? "end" : "middle").Append('"');
        if (style.Fill != Ink.Text) body.Append(" fill=\"").Append(style.Fill).Append('"');
        if (style.Bold) body.Append(" font-weight=\"600\"");
        if (style.Halo is { } halo) body.Append(" stroke=\"").Append(halo).Append("\" stroke-width=\"3.5\" stroke-linejoin=\"round\" paint-order=\"stroke\"");
        if (style.RotateDegrees != 0) body.Append(" transform=\"rotate(").Append(Canvas.Number(style.RotateDegrees)).Append(' ').Append(Canvas.Number(text.X)).Append(' ').Append(Canvas.Number(text.Y)).Append(")\"");
        body.Append('>').Append(Markup.Escape(text.Words)).Append("</text>\n");
    }

    private void Open(string element, params ReadOnlySpan<(string Name, double Value)> places)
    {
        body.Append('<').Append(element);
        foreach (var (name, value) in places) body.Append(' ').Append(name).Append("=\"").Append(Canvas.Number(value)).Append('"');
    }

    private void Close(string element, Paint paint, string? tip)
    {
        if (paint.Fill != Ink.Text) body.Append(" fill=\"").Append(paint.Fill ?? "none").Append('"');
        if (paint.Stroke is { } stroke)
        {
            body.Append(" stroke=\"").Append(stroke).Append('"');
            if (paint.Width != 1) body.Append(" stroke-width=\"").Append(Canvas.Number(paint.Width)).Append('"');
            if (paint.Dash is { } dash) body.Append(" stroke-dasharray=\"").Append(dash).Append('"');
        }

        if (tip is null) body.Append("/>\n");
        else body.Append("><title>").Append(Markup.Escape(tip)).Append("</title></").Append(element).Append(">\n");
    }
}
