using System.Globalization;
using PdfSharp.Drawing;

namespace Stillwatch.Reports.Drawing;

/// <summary>A picture as vectors on a page of a PDF, in light inks: paper is white.</summary>
internal sealed class PdfPainter
{
    private readonly XGraphics page;
    private readonly Picture picture;

    private PdfPainter(XGraphics page, Picture picture)
    {
        this.page = page;
        this.picture = picture;
    }

    /// <summary>Draws it with its upper left corner at (x, y), scaled to a width; all in points.</summary>
    public static void Paint(XGraphics page, Picture picture, double x, double y, double width)
    {
        if (picture.IsEmpty) return;
        var before = page.Save();
        page.TranslateTransform(x, y);
        page.ScaleTransform(width / picture.Width);
        var painter = new PdfPainter(page, picture);
        var clips = new Stack<XGraphicsState>();
        foreach (var shape in picture.Shapes) painter.Draw(shape, clips);
        page.Restore(before);
    }

    private void Draw(Shape shape, Stack<XGraphicsState> clips)
    {
        switch (shape)
        {
            case Shape.Rect r:
                var rect = new XRect(r.X, r.Y, r.Width, r.Height);
                var outline = new XGraphicsPath();
                if (r.Radius > 0) outline.AddRoundedRectangle(r.X, r.Y, r.Width, r.Height, r.Radius * 2, r.Radius * 2);
                else outline.AddRectangle(rect);
                Painted(r.Paint, outline, rect);
                break;
            case Shape.Circle c:
                var circle = new XGraphicsPath();
                circle.AddEllipse(c.X - c.Radius, c.Y - c.Radius, c.Radius * 2, c.Radius * 2);
                Painted(c.Paint, circle, new XRect(c.X - c.Radius, c.Y - c.Radius, c.Radius * 2, c.Radius * 2));
                break;
            case Shape.Line l:
                if (PenOf(l.Paint) is { } pen) page.DrawLine(pen, l.X1, l.Y1, l.X2, l.Y2);
                break;
            case Shape.Path path:
                Strokes(path);
                break;
            case Shape.Text text:
                Text(text);
                break;
            case Shape.Clip clip:
                clips.Push(page.Save());
                page.IntersectClip(new XRect(clip.X, clip.Y, clip.Width, clip.Height));
                break;
            case Shape.EndOfClip:
                page.Restore(clips.Pop());
                break;
        }
    }

    // Each figure of a path by itself: joined into one they would be drawn with lines between them.
    private void Strokes(Shape.Path path)
    {
        var figures = FiguresOf(path.Strokes);
        var points = figures.SelectMany(f => f.Points).ToList();
        if (points.Count == 0) return;
        if (path.Paint.Fill is not null)
        {
            var filled = new XGraphicsPath { FillMode = XFillMode.Winding };
            foreach (var (outline, _) in figures.Where(f => f.Points.Length > 2)) filled.AddPolygon(outline);
            double left = points.Min(p => p.X), top = points.Min(p => p.Y);
            Painted(path.Paint with { Stroke = null }, filled, new XRect(left, top, points.Max(p => p.X) - left, points.Max(p => p.Y) - top));
        }

        if (PenOf(path.Paint) is not { } pen) return;
        foreach (var (line, isClosed) in figures.Where(f => f.Points.Length > 1))
        {
            if (isClosed) page.DrawPolygon(pen, line);
            else page.DrawLines(pen, line);
        }
    }

    private static List<(XPoint[] Points, bool IsClosed)> FiguresOf(PathText strokes)
    {
        var figures = new List<(XPoint[] Points, bool IsClosed)>();
        var points = new List<XPoint>();
        void Flush(bool isClosed)
        {
            if (points.Count > 0) figures.Add(([.. points], isClosed));
            points.Clear();
        }

        foreach (var step in strokes.Steps)
        {
            if (step.Kind == PathText.StepKind.Close)
            {
                Flush(isClosed: true);
                continue;
            }

            if (step.Kind == PathText.StepKind.Move) Flush(isClosed: false);
            points.Add(new XPoint(step.X, step.Y));
        }

        Flush(isClosed: false);
        return figures;
    }

    private void Painted(Paint paint, XGraphicsPath outline, XRect around)
    {
        if (picture.PatternOf(paint.Fill) is { } pattern) Tiled(pattern, outline, around);
        else if (paint.Fill is { } fill) page.DrawPath(new XSolidBrush(ColourOf(fill)), outline);
        if (PenOf(paint) is { } pen) page.DrawPath(pen, outline);
    }

    // Tiles are laid out from the picture's corner, as in SVG, so that neighbouring areas fit together.
    private void Tiled(Pattern pattern, XGraphicsPath outline, XRect around)
    {
        var before = page.Save();
        page.IntersectClip(outline);
        var area = around;
        if (pattern.IsSlanted)
        {
            page.RotateTransform(45);
            double half = Math.Sqrt(0.5); // the corners of the area as the turned axes see them
            double[] across = [(around.Left + around.Top) * half, (around.Right + around.Top) * half, (around.Left + around.Bottom) * half, (around.Right + around.Bottom) * half];
            double[] down = [(around.Top - around.Left) * half, (around.Top - around.Right) * half, (around.Bottom - around.Left) * half, (around.Bottom - around.Right) * half];
            area = new XRect(across.Min(), down.Min(), across.Max() - across.Min(), down.Max() - down.Min());
        }

        int size = pattern.Size;
        int firstColumn = (int)Math.Floor(area.Left / size), lastColumn = (int)Math.Floor(area.Right / size), firstRow = (int)Math.Floor(area.Top / size), lastRow = (int)Math.Floor(area.Bottom / size);
        foreach (var mark in pattern.Marks)
        {
            var brush = new XSolidBrush(ColourOf(mark.Ink));
            if (mark.IsDot)
            {
                for (int row = firstRow; row <= lastRow; row++)
                    for (int column = firstColumn; column <= lastColumn; column++)
                        page.DrawEllipse(brush, column * size + mark.X - mark.Width, row * size + mark.Y - mark.Width, mark.Width * 2, mark.Width * 2);
            }
            else if (mark.Width == size && mark.Height == size) page.DrawRectangle(brush, area);
            else if (mark.Height == size)
                for (int column = firstColumn; column <= lastColumn; column++) page.DrawRectangle(brush, column * size + mark.X, area.Top, mark.Width, area.Height);
            else
                for (int row = firstRow; row <= lastRow; row++) page.DrawRectangle(brush, area.Left, row * size + mark.Y, area.Width, mark.Height);
        }

        page.Restore(before);
    }

    private void Text(Shape.Text text)
    {
        var style = text.Style;
        string words = EmbeddedFont.Drawable(text.Words);
        if (words.Length == 0) return;
        var font = new XFont(EmbeddedFont.Family, style.Size, style.Bold ? XFontStyleEx.Bold : XFontStyleEx.Regular);
        var before = page.Save();
        if (style.RotateDegrees != 0) page.RotateAtTransform(style.RotateDegrees, new XPoint(text.X, text.Y));
        if (style.Halo is { } halo)
        {
            // A text cannot be outlined here without being written twice; a patch of the same ink keeps it as legible.
            double width = page.MeasureString(words, font).Width, left = style.Anchor switch { Anchor.End => text.X - width, Anchor.Middle => text.X - width / 2, _ => text.X };
            page.DrawRectangle(new XSolidBrush(ColourOf(halo)), left - 1.5, text.Y - style.Size * 0.78, width + 3, style.Size * 0.98);
        }

        var format = style.Anchor switch { Anchor.End => XStringFormats.BaseLineRight, Anchor.Middle => XStringFormats.BaseLineCenter, _ => XStringFormats.BaseLineLeft };
        page.DrawString(words, font, new XSolidBrush(ColourOf(style.Fill)), text.X, text.Y, format);
        page.Restore(before);
    }

    private static XPen? PenOf(Paint paint)
    {
        if (paint.Stroke is not { } stroke) return null;
        var pen = new XPen(ColourOf(stroke), paint.Width);
        // In multiples of the pen's width, where SVG has pixels.
        if (paint.Dash is { } dash) pen.DashPattern = [.. dash.Split(' ').Select(d => double.Parse(d, CultureInfo.InvariantCulture) / paint.Width)];
        return pen;
    }

    public static XColor ColourOf(string ink) => XColor.FromArgb(
        Convert.ToInt32(ink.Substring(1, 2), 16), Convert.ToInt32(ink.Substring(3, 2), 16), Convert.ToInt32(ink.Substring(5, 2), 16));
}
