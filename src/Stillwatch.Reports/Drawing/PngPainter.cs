using System.Globalization;
using SkiaSharp;

namespace Stillwatch.Reports.Drawing;

/// <summary>A picture as PNG. The only fonts are those that come with the program, so that every machine draws the same.</summary>
internal sealed class PngPainter(SKCanvas canvas, Picture picture, InkSet inks)
{
    private static readonly SKTypeface Regular = Typeface(EmbeddedFont.Regular);
    private static readonly SKTypeface Bold = Typeface(EmbeddedFont.Bold);

    /// <summary>Width and height are those of the picture times the scale, rounded up.</summary>
    public static byte[] Paint(Picture picture, double scale, InkSet inks)
    {
        var size = new SKImageInfo((int)Math.Ceiling(picture.Width * scale), (int)Math.Ceiling(picture.Height * scale), SKColorType.Rgba8888, SKAlphaType.Opaque);
        using var surface = SKSurface.Create(size) ?? throw new InvalidOperationException($"Found no memory for a picture of {size.Width} × {size.Height}, expected room for it; a smaller scale needs less.");
        surface.Canvas.Clear(SKColor.Parse(inks.Shape(Ink.Paper)));
        surface.Canvas.Scale((float)scale);
        var painter = new PngPainter(surface.Canvas, picture, inks);
        foreach (var shape in picture.Shapes) painter.Draw(shape);
        using var image = surface.Snapshot();
        using var data = image.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    private static SKTypeface Typeface(byte[] font)
    {
        using var data = SKData.CreateCopy(font);
        return SKTypeface.FromData(data);
    }

    private void Draw(Shape shape)
    {
        switch (shape)
        {
            case Shape.Rect r:
                var rect = SKRect.Create((float)r.X, (float)r.Y, (float)r.Width, (float)r.Height);
                Painted(r.Paint, p => canvas.DrawRoundRect(rect, (float)r.Radius, (float)r.Radius, p));
                break;
            case Shape.Circle c:
                Painted(c.Paint, p => canvas.DrawCircle((float)c.X, (float)c.Y, (float)c.Radius, p));
                break;
            case Shape.Line l:
                Painted(l.Paint, p => canvas.DrawLine((float)l.X1, (float)l.Y1, (float)l.X2, (float)l.Y2, p));
                break;
            case Shape.Path path:
                using (var strokes = Of(path.Strokes)) Painted(path.Paint, p => canvas.DrawPath(strokes, p));
                break;
            case Shape.Text text:
                Text(text);
                break;
            case Shape.Clip clip:
                canvas.Save();
                canvas.ClipRect(SKRect.Create((float)clip.X, (float)clip.Y, (float)clip.Width, (float)clip.Height), antialias: true);
                break;
            case Shape.EndOfClip:
                canvas.Restore();
                break;
        }
    }

    private static SKPath Of(PathText strokes)
    {
        var path = new SKPath();
        foreach (var step in strokes.Steps)
        {
            switch (step.Kind)
            {
                case PathText.StepKind.Move: path.MoveTo((float)step.X, (float)step.Y); break;
                case PathText.StepKind.Line: path.LineTo((float)step.X, (float)step.Y); break;
                default: path.Close(); break;
            }
        }

        return path;
    }

    private void Painted(Paint paint, Action<SKPaint> draw)
    {
        if (paint.Fill is { } fill)
        {
            using var pen = new SKPaint { IsAntialias = true, Style = SKPaintStyle.Fill };
            using var shader = picture.PatternOf(fill) is { } pattern ? ShaderOf(pattern) : null;
            if (shader is null) pen.Color = SKColor.Parse(inks.Shape(fill));
            else pen.Shader = shader;
            draw(pen);
        }

        if (paint.Stroke is not { } stroke) return;
        using var line = new SKPaint { IsAntialias = true, Style = SKPaintStyle.Stroke, StrokeWidth = (float)paint.Width, Color = SKColor.Parse(inks.Shape(stroke)), StrokeMiter = 4 };
        using var dash = paint.Dash is { } dashes ? SKPathEffect.CreateDash([.. dashes.Split(' ').Select(d => float.Parse(d, CultureInfo.InvariantCulture))], 0) : null;
        line.PathEffect = dash;
        draw(line);
    }

    private SKShader ShaderOf(Pattern pattern)
    {
        var tile = SKRect.Create(pattern.Size, pattern.Size);
        using var recorder = new SKPictureRecorder();
        var on = recorder.BeginRecording(tile);
        foreach (var mark in pattern.Marks)
        {
            using var pen = new SKPaint { IsAntialias = true, Color = SKColor.Parse(inks.Shape(mark.Ink)) };
            if (mark.IsDot) on.DrawCircle((float)mark.X, (float)mark.Y, (float)mark.Width, pen);
            else on.DrawRect((float)mark.X, (float)mark.Y, (float)mark.Width, (float)mark.Height, pen);
        }

        using var recorded = recorder.EndRecording();
        return recorded.ToShader(SKShaderTileMode.Repeat, SKShaderTileMode.Repeat, SKFilterMode.Linear, pattern.IsSlanted ? SKMatrix.CreateRotationDegrees(45) : SKMatrix.Identity, tile);
    }

    private void Text(Shape.Text text)
    {
        var style = text.Style;
        using var font = new SKFont(style.Bold ? Bold : Regular, (float)style.Size) { Edging = SKFontEdging.Antialias, Subpixel = true };
        var align = style.Anchor switch { Anchor.End => SKTextAlign.Right, Anchor.Middle => SKTextAlign.Center, _ => SKTextAlign.Left };
        string words = EmbeddedFont.Drawable(text.Words);
        canvas.Save();
        if (style.RotateDegrees != 0) canvas.RotateDegrees((float)style.RotateDegrees, (float)text.X, (float)text.Y);
        if (style.Halo is { } halo)
        {
            using var around = new SKPaint { IsAntialias = true, Style = SKPaintStyle.Stroke, StrokeWidth = 3.5f, StrokeJoin = SKStrokeJoin.Round, Color = SKColor.Parse(inks.Shape(halo)) };
            canvas.DrawText(words, (float)text.X, (float)text.Y, align, font, around);
        }

        using var pen = new SKPaint { IsAntialias = true, Color = SKColor.Parse(inks.Text(style.Fill)) };
        canvas.DrawText(words, (float)text.X, (float)text.Y, align, font, pen);
        canvas.Restore();
    }
}
