using PdfSharp.Drawing;
using PdfSharp.Pdf;
using Stillwatch.Reports.Drawing;

namespace Stillwatch.Reports.Handover;

/// <summary>Sets text and figures down a page and goes on to the next where there is no room. All in points, times one size for the whole document.</summary>
internal sealed class PdfFlow : IDisposable
{
    public const double PointsPerMillimetre = 72 / 25.4;

    /// <summary>Kept free at the foot of each page.</summary>
    public const double FootHeight = 28;

    private const double LineHeight = 1.28;

    private readonly PdfDocument document;
    private readonly Paper paper;
    private readonly double size;
    private double top;

    public PdfFlow(PdfDocument document, Paper paper, double size)
    {
        (this.document, this.paper, this.size) = (document, paper, size);
        Page = NewPage();
    }

    public XGraphics Page { get; private set; }

    public double Left => paper.Margin * PointsPerMillimetre;

    public double Width => (paper.Width - 2 * paper.Margin) * PointsPerMillimetre;

    public double Y { get; set; }

    private double Bottom => paper.Height * PointsPerMillimetre - Left - FootHeight;

    /// <summary>A length or a type size as this document has it.</summary>
    public double Sized(double points) => points * size;

    public XFont Font(double points, bool isBold = false) => new(EmbeddedFont.Family, Sized(points), isBold ? XFontStyleEx.Bold : XFontStyleEx.Regular);

    /// <summary>Goes on to the next page where less than this is left.</summary>
    public void Need(double height)
    {
        if (Y + height <= Bottom || Y <= top + 1) return;
        Page.Dispose();
        Page = NewPage();
    }

    public void Space(double points) => Y += Sized(points);

    public void Text(string words, double points, bool isBold = false, string ink = Ink.Text, double after = 0)
    {
        Lines(words, Font(points, isBold), ink, Left, Width);
        Space(after);
    }

    public void Heading(string words)
    {
        Space(5);
        Need(Sized(46)); // not alone at the foot of a page
        Page.DrawLine(new XPen(PdfPainter.ColourOf(Ink.Text), 1), Left, Y, Left + Width, Y);
        Space(4);
        Text(words, 10.5, isBold: true, after: 2.5);
    }

    public void Point(string words, double points, string ink)
    {
        var font = Font(points);
        double indent = Sized(10);
        Need(font.Size * LineHeight);
        Page.DrawString("•", font, new XSolidBrush(PdfPainter.ColourOf(ink)), Left + Sized(2), Y + font.Size, XStringFormats.BaseLineLeft);
        Lines(words, font, ink, Left + indent, Width - indent);
        Space(1.5);
    }

    public void Framed(string words)
    {
        var font = Font(9.3, isBold: true);
        double pad = Sized(6);
        var lines = Wrapped(Page, words, font, Width - 2 * pad);
        double height = lines.Count * font.Size * LineHeight + 2 * pad;
        Need(height);
        Page.DrawRectangle(new XPen(PdfPainter.ColourOf(Ink.Text), 1.6), Left, Y, Width, height);
        double at = Y + pad;
        foreach (string line in lines)
        {
            Page.DrawString(line, font, XBrushes.Black, Left + pad, at + font.Size, XStringFormats.BaseLineLeft);
            at += font.Size * LineHeight;
        }

        Y += height + Sized(7);
    }

    public void Tiles(IReadOnlyList<Tile> tiles)
    {
        if (tiles.Count == 0) return;
        double width = Width / tiles.Count, inner = width - Sized(8);
        var small = Font(7.6);
        var value = Font(13, isBold: true);
        double labels = tiles.Max(t => Wrapped(Page, t.Label, small, inner).Count) * small.Size * LineHeight;
        double mores = tiles.Max(t => Wrapped(Page, t.More, small, inner).Count) * small.Size * LineHeight;
        double height = labels + value.Size * LineHeight + mores + Sized(8);
        Need(height);
        double start = Y + Sized(3);
        for (int i = 0; i < tiles.Count; i++)
        {
            double x = Left + i * width;
            Y = start;
            Lines(tiles[i].Label, small, Ink.Muted, x, inner);
            Y = start + labels;
            // A value that is too long for its place is set smaller, never cut.
            var own = value;
            double needed = Page.MeasureString(tiles[i].Value, value).Width;
            if (needed > inner) own = new XFont(EmbeddedFont.Family, Math.Max(6, value.Size * inner / needed), XFontStyleEx.Bold);
            Page.DrawString(EmbeddedFont.Drawable(tiles[i].Value), own, XBrushes.Black, x, Y + value.Size, XStringFormats.BaseLineLeft);
            Y = start + labels + value.Size * LineHeight;
            Lines(tiles[i].More, small, Ink.Muted, x, inner);
        }

        Y = start + height;
    }

    public void Figure(Block.Drawn drawn)
    {
        if (drawn.Picture.IsEmpty) return;
        double width = Width * drawn.Share * Math.Min(1, size + 0.05), height = width / drawn.Picture.Width * drawn.Picture.Height;
        double most = Bottom - top - Sized(24);
        if (height > most) (width, height) = (width * most / height, most);
        Need(height + Sized(14));
        if (drawn.Caption.Length > 0) Text(drawn.Caption, 7.8, ink: Ink.Muted, after: 2);
        PdfPainter.Paint(Page, drawn.Picture, Left, Y, width);
        Y += height + Sized(5);
    }

    public void ToSign(IReadOnlyList<string> labels)
    {
        if (labels.Count == 0) return;
        Need(Sized(44));
        Space(24);
        double width = (Width - Sized(16) * (labels.Count - 1)) / labels.Count;
        for (int i = 0; i < labels.Count; i++)
        {
            double x = Left + i * (width + Sized(16));
            Page.DrawLine(new XPen(PdfPainter.ColourOf(Ink.Text), 0.8), x, Y, x + width, Y);
            Page.DrawString(labels[i], Font(7.6), new XSolidBrush(PdfPainter.ColourOf(Ink.Muted)), x, Y + Sized(9), XStringFormats.BaseLineLeft);
        }

        Space(16);
    }

    /// <summary>Draws wrapped lines from the present place on.</summary>
    public void Lines(string words, XFont font, string ink, double x, double width)
    {
        var brush = new XSolidBrush(PdfPainter.ColourOf(ink));
        foreach (string line in Wrapped(Page, words, font, width))
        {
            Need(font.Size * LineHeight);
            Page.DrawString(line, font, brush, x, Y + font.Size, XStringFormats.BaseLineLeft);
            Y += font.Size * LineHeight;
        }
    }

    public static double HeightOf(int lines, XFont font) => lines * font.Size * LineHeight;

    /// <summary>Lines no wider than asked. Breaks at blanks alone, except in a word that is wider than a line.</summary>
    public static List<string> Wrapped(XGraphics page, string words, XFont font, double width)
    {
        var lines = new List<string>();
        string line = "";
        foreach (string word in EmbeddedFont.Drawable(words).Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            string longer = line.Length == 0 ? word : line + " " + word;
            if (page.MeasureString(longer, font).Width <= width)
            {
                line = longer;
                continue;
            }

            if (line.Length > 0) lines.Add(line);
            line = word;
            while (page.MeasureString(line, font).Width > width && line.Length > 1)
            {
                int fits = line.Length - 1;
                while (fits > 1 && page.MeasureString(line[..fits], font).Width > width) fits--;
                if (char.IsHighSurrogate(line[fits - 1]) && fits > 1) fits--;
                lines.Add(line[..fits]);
                line = line[fits..];
            }
        }

        if (line.Length > 0) lines.Add(line);
        return lines;
    }

    public void Dispose() => Page.Dispose();

    private XGraphics NewPage()
    {
        var added = document.AddPage();
        added.Width = XUnit.FromMillimeter(paper.Width);
        added.Height = XUnit.FromMillimeter(paper.Height);
        Y = top = Left;
        return XGraphics.FromPdfPage(added);
    }
}
