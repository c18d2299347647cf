using System.Globalization;
using System.Text;

namespace Stillwatch.Reports.Drawing;

/// <summary>A repeating fill that tells without colour.</summary>
/// <param name="Name">Of its definition in a figure.</param>
/// <param name="Size">Width and height of the tile that is repeated, in pixels.</param>
/// <param name="IsSlanted">Turned by 45°.</param>
/// <param name="Marks">What is on a tile, from the back to the front.</param>
internal sealed record Pattern(string Name, int Size, bool IsSlanted, IReadOnlyList<Pattern.Mark> Marks)
{
    /// <summary>A stripe or a dot on a tile. A stripe reaches across the tile in at least one direction.</summary>
    /// <param name="X">Left edge of a stripe, middle of a dot.</param>
    /// <param name="Y">Upper edge of a stripe, middle of a dot.</param>
    /// <param name="Width">Of a stripe; of a dot the radius.</param>
    /// <param name="Height">Of a stripe; zero: a dot.</param>
    /// <param name="Ink">Its fill.</param>
    public readonly record struct Mark(double X, double Y, double Width, double Height, string Ink)
    {
        public bool IsDot => Height == 0;
    }

    /// <summary>Nothing is known here.</summary>
    public static readonly Pattern Gap = new("gap", 6, true, [new(0, 0, 6, 6, Ink.Wash), new(0, 0, 1.4, 6, Ink.Hatch)]);

    /// <summary>There were numbers here, and they do not count.</summary>
    public static readonly Pattern Doubted = new("doubted", 6, false, [new(0, 0, 6, 6, Ink.Wash), new(3, 3, 1.1, 0, Ink.Hatch)]);

    /// <summary>A must-catch event is missed here. A dark and a light stroke side by side show on any cell.</summary>
    public static readonly Pattern Missed = new("missed", 10, true, [new(0, 0, 1.4, 10, Ink.Text), new(1.4, 0, 1, 10, Ink.Paper)]);

    /// <summary>A signal is on so long here that few starts do not mean quiet.</summary>
    public static readonly Pattern LongOn = new("longon", 6, false, [new(0, 1.5, 6, 1, Ink.Text), new(0, 2.5, 6, 1, Ink.Paper)]);

    /// <summary>A must-catch event is late here.</summary>
    public static readonly Pattern Late = new("late", 10, false, [new(5, 5, 2, 0, Ink.Paper), new(5, 5, 1.4, 0, Ink.Text)]);

    /// <summary>The marks as SVG.</summary>
    public string Content
    {
        get
        {
            static string N(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);
            var text = new StringBuilder();
            foreach (var mark in Marks)
            {
                if (mark.IsDot)
                {
                    text.Append(CultureInfo.InvariantCulture, $"<circle cx=\"{N(mark.X)}\" cy=\"{N(mark.Y)}\" r=\"{N(mark.Width)}\" fill=\"{mark.Ink}\"/>");
                    continue;
                }

                text.Append("<rect");
                if (mark.X != 0) text.Append(CultureInfo.InvariantCulture, $" x=\"{N(mark.X)}\"");
                if (mark.Y != 0) text.Append(CultureInfo.InvariantCulture, $" y=\"{N(mark.Y)}\"");
                text.Append(CultureInfo.InvariantCulture, $" width=\"{N(mark.Width)}\" height=\"{N(mark.Height)}\" fill=\"{mark.Ink}\"/>");
            }

            return text.ToString();
        }
    }
}
