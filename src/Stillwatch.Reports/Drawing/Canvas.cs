using System.Globalization;

namespace Stillwatch.Reports.Drawing;

/// <summary>
/// Records what a figure is made of. Coordinates are pixels from the top left; a coordinate that is not a number is refused, because a
/// browser would drop the shape without a word.
/// </summary>
internal sealed class Canvas
{
    private readonly List<Shape> shapes = [];
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
        string text = Rounded(value).ToString("0.#", CultureInfo.InvariantCulture);
        return text == "-0" ? "0" : text;
    }

    /// <summary>To a tenth of a pixel.</summary>
    public static double Rounded(double value)
    {
        if (!double.IsFinite(value)) throw new ArgumentOutOfRangeException(nameof(value), value, "Found a coordinate that is not a finite number; a figure cannot be drawn with it.");
        return Math.Round(value, 1);
    }

    public void Rect(double x, double y, double width, double height, Paint paint, string? tip = null, double radius = 0) =>
        shapes.Add(new Shape.Rect(Rounded(x), Rounded(y), Rounded(Math.Max(0, width)), Rounded(Math.Max(0, height)), paint, tip, Rounded(radius)));

    public void Circle(double x, double y, double radius, Paint paint, string? tip = null) => shapes.Add(new Shape.Circle(Rounded(x), Rounded(y), Rounded(radius), paint, tip));

    public void Line(double x1, double y1, double x2, double y2, Paint paint) => shapes.Add(new Shape.Line(Rounded(x1), Rounded(y1), Rounded(x2), Rounded(y2), paint));

    public void Path(PathText path, Paint paint, string? tip = null)
    {
        if (!path.IsEmpty) shapes.Add(new Shape.Path(path, paint, tip));
    }

    public void Text(double x, double y, string text, TextStyle style) => shapes.Add(new Shape.Text(Rounded(x), Rounded(y), text, style));

    /// <summary>What is drawn until the result is disposed shows inside this rectangle only.</summary>
    public IDisposable ClipTo(double x, double y, double width, double height)
    {
        shapes.Add(new Shape.Clip($"{Id}-clip{++clips}", Rounded(x), Rounded(y), Rounded(Math.Max(0, width)), Rounded(Math.Max(0, height))));
        return new EndOfGroup(shapes);
    }

    /// <summary>A fill of the given pattern, defined in this figure on first use.</summary>
    public string Fill(Pattern pattern)
    {
        string name = $"{Id}-{pattern.Name}";
        if (defined.Add(name)) shapes.Add(new Shape.PatternUsed(name, pattern));
        return $"url(#{name})";
    }

    /// <summary>The whole figure.</summary>
    public Picture Finish() => new(Id, Width, Height, title, description, shapes);

    public override string ToString() => Finish().ToSvg();

    private sealed class EndOfGroup(List<Shape> shapes) : IDisposable
    {
        public void Dispose() => shapes.Add(new Shape.EndOfClip());
    }
}
