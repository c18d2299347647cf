using System.Text;

namespace Stillwatch.Reports.Drawing;

/// <summary>Collects the strokes of a path, dropping points that repeat the one before after rounding.</summary>
internal sealed class PathText
{
    private readonly StringBuilder text = new();
    private string lastX = "";
    private string lastY = "";

    public bool IsEmpty => text.Length == 0;

    public PathText MoveTo(double x, double y)
    {
        (lastX, lastY) = (Canvas.Number(x), Canvas.Number(y));
        text.Append('M').Append(lastX).Append(' ').Append(lastY);
        return this;
    }

    public PathText LineTo(double x, double y)
    {
        string nextX = Canvas.Number(x), nextY = Canvas.Number(y);
        if (nextX == lastX && nextY == lastY) return this;
        if (nextY == lastY) text.Append('H').Append(nextX);
        else if (nextX == lastX) text.Append('V').Append(nextY);
        else text.Append('L').Append(nextX).Append(' ').Append(nextY);
        (lastX, lastY) = (nextX, nextY);
        return this;
    }

    public PathText Close()
    {
        text.Append('Z');
        return this;
    }

    public override string ToString() => text.ToString();
}
