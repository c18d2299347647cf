namespace Stillwatch.Reports.Drawing;

/// <summary>One thing drawn, in the order of drawing. Coordinates are pixels from the top left.</summary>
internal abstract record Shape
{
    private Shape()
    {
    }

    public sealed record Rect(double X, double Y, double Width, double Height, Paint Paint, string? Tip, double Radius) : Shape;

    public sealed record Circle(double X, double Y, double Radius, Paint Paint, string? Tip) : Shape;

    public sealed record Line(double X1, double Y1, double X2, double Y2, Paint Paint) : Shape;

    public sealed record Path(PathText Strokes, Paint Paint, string? Tip) : Shape;

    public sealed record Text(double X, double Y, string Words, TextStyle Style) : Shape;

    /// <summary>Says that a fill of this name will be met. Draws nothing.</summary>
    public sealed record PatternUsed(string Name, Pattern Pattern) : Shape;

    /// <summary>What follows, up to <see cref="EndOfClip"/>, shows inside this rectangle only.</summary>
    public sealed record Clip(string Name, double X, double Y, double Width, double Height) : Shape;

    public sealed record EndOfClip : Shape;
}
