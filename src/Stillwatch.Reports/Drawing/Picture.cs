using Stillwatch.Reports.Drawing;

namespace Stillwatch.Reports;

/// <summary>A finished figure: recorded once, drawn as SVG, PNG or onto a page of a PDF, always from the same list of shapes.</summary>
public sealed class Picture
{
    /// <summary>There was nothing to draw: no text, no picture.</summary>
    public static readonly Picture None = new("none", 0, 0, "", "", []);

    internal Picture(string id, double width, double height, string title, string description, IReadOnlyList<Shape> shapes)
    {
        (Id, Width, Height, Title, Description, Shapes) = (id, width, height, title, description, shapes);
    }

    /// <summary>Pixels.</summary>
    public double Width { get; }

    /// <summary>Pixels.</summary>
    public double Height { get; }

    /// <summary>What the figure is, for those who hear the page.</summary>
    public string Title { get; }

    /// <summary>What it shows, in a sentence or some.</summary>
    public string Description { get; }

    public bool IsEmpty => ReferenceEquals(this, None);

    internal string Id { get; }

    internal IReadOnlyList<Shape> Shapes { get; }

    /// <summary>As text; "" where there was nothing to draw.</summary>
    public string ToSvg() => IsEmpty ? "" : SvgWriter.Write(this);

    /// <summary>As a PNG on paper.</summary>
    /// <param name="scale">Picture points for each pixel of the figure, above 0 and at most 8.</param>
    /// <param name="isDark">On dark paper, in dark inks.</param>
    /// <exception cref="InvalidOperationException">There is nothing to draw.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The scale.</exception>
    public byte[] ToPng(double scale = 2, bool isDark = false)
    {
        if (IsEmpty) throw new InvalidOperationException("Found nothing to draw, expected a figure: look at IsEmpty first.");
        if (!(scale > 0 && scale <= 8)) throw new ArgumentOutOfRangeException(nameof(scale), scale, "Expected a scale above 0 and at most 8.");
        return PngPainter.Paint(this, scale, isDark ? InkSet.Dark : InkSet.Light);
    }

    /// <summary>The pattern behind a fill; null where the fill is an ink or none.</summary>
    internal Pattern? PatternOf(string? fill) =>
        fill is null || fill[0] == '#' ? null : Shapes.OfType<Shape.PatternUsed>().FirstOrDefault(p => fill == $"url(#{p.Name})")?.Pattern;
}
