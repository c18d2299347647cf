using System.Text;

namespace Stillwatch.Reports.Drawing;

/// <summary>Collects the strokes of a path, dropping points that repeat the one before after rounding to a tenth of a pixel.</summary>
internal sealed class PathText
{
    private readonly List<Step> steps = [];
    private double lastX;
    private double lastY;

    public enum StepKind : byte
    {
        Move,
        Line,
        Close,
    }

    /// <summary>One stroke, to a place in pixels.</summary>
    public readonly record struct Step(StepKind Kind, double X, double Y);

    public bool IsEmpty => steps.Count == 0;

    public IReadOnlyList<Step> Steps => steps;

    public PathText MoveTo(double x, double y)
    {
        (lastX, lastY) = (Canvas.Rounded(x), Canvas.Rounded(y));
        steps.Add(new Step(StepKind.Move, lastX, lastY));
        return this;
    }

    public PathText LineTo(double x, double y)
    {
        double nextX = Canvas.Rounded(x), nextY = Canvas.Rounded(y);
        if (nextX == lastX && nextY == lastY) return this;
        (lastX, lastY) = (nextX, nextY);
        steps.Add(new Step(StepKind.Line, nextX, nextY));
        return this;
    }

    public PathText Close()
    {
        steps.Add(new Step(StepKind.Close, lastX, lastY));
        return this;
    }

    /// <summary>As the d of an SVG path.</summary>
    public override string ToString()
    {
        var text = new StringBuilder(steps.Count * 8);
        double x = 0, y = 0;
        foreach (var step in steps)
        {
            switch (step.Kind)
            {
                case StepKind.Move: text.Append('M').Append(Canvas.Number(step.X)).Append(' ').Append(Canvas.Number(step.Y)); break;
                case StepKind.Close: text.Append('Z'); break;
                case StepKind.Line when step.Y == y: text.Append('H').Append(Canvas.Number(step.X)); break;
                case StepKind.Line when step.X == x: text.Append('V').Append(Canvas.Number(step.Y)); break;
                default: text.Append('L').Append(Canvas.Number(step.X)).Append(' ').Append(Canvas.Number(step.Y)); break;
            }

            (x, y) = (step.X, step.Y);
        }

        return text.ToString();
    }
}
