using System.Globalization;

namespace Stillwatch.Reports.Drawing;

/// <summary>
/// What every ink becomes on another paper. Figures are always built in the light inks of <see cref="Ink"/>; a set says what each of
/// them is drawn as. Red, yellow and cyan keep their hue, because they belong to alarm signals on any paper.
/// </summary>
internal sealed class InkSet
{
    private readonly IReadOnlyDictionary<string, string>? inks;

    private InkSet(IReadOnlyDictionary<string, string>? inks) => this.inks = inks;

    /// <summary>As the inks stand.</summary>
    public static readonly InkSet Light = new(null);

    /// <summary>For a dark page.</summary>
    public static readonly InkSet Dark = new(new Dictionary<string, string>(StringComparer.Ordinal)
    {
        [Ink.Text] = "#e8ecf0",
        [Ink.Muted] = "#a9b3bd",
        [Ink.Axis] = "#76818c",
        [Ink.Grid] = "#2b323a",
        [Ink.Paper] = "#14181d",
        [Ink.Wash] = "#20262d",
        [Ink.Trace] = "#d7dee5",
        [Ink.Envelope] = "#6f7d8b",
        [Ink.Hatch] = "#6f7a85",
        [Ink.Proposed] = "#b5a8ff",
        [Ink.High] = "#ff4a5c",
        [Ink.Medium] = "#ffd21f",
        [Ink.Low] = "#1fd0e0",
    });

    /// <summary>What a shape, an outline or a halo of this ink is drawn as.</summary>
    public string Shape(string ink) => inks is null ? ink : inks.GetValueOrDefault(ink) ?? Mirrored(ink);

    /// <summary>What a text of this ink is drawn as. Text in paper or black stands on a coloured cell, which is mirrored, and so is the text.</summary>
    public string Text(string ink) => inks is null ? ink : ink switch
    {
        Ink.Paper => "#000000",
        "#000000" => "#ffffff",
        _ => Shape(ink),
    };

    /// <summary>
    /// The same hue with its contrast to white and to black exchanged (WCAG 2.2), so that a scale from paper to deep violet becomes one
    /// from near black to pale violet with the same steps of contrast.
    /// </summary>
    private static string Mirrored(string colour)
    {
        double Linear(int from)
        {
            double c = Convert.ToInt32(colour.Substring(from, 2), 16) / 255.0;
            return c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4);
        }

        double luminance = Ramp.Luminance(colour), wanted = Math.Clamp(1.05 * 0.05 / (luminance + 0.05) - 0.05, 0, 1);
        double Turned(double channel) => wanted > luminance ? channel + (1 - channel) * (wanted - luminance) / (1 - luminance) : channel * wanted / luminance;
        string Hex(double channel)
        {
            double c = Math.Clamp(Turned(channel), 0, 1);
            double encoded = c <= 0.0031308 ? 12.92 * c : 1.055 * Math.Pow(c, 1 / 2.4) - 0.055;
            return ((int)Math.Round(encoded * 255)).ToString("x2", CultureInfo.InvariantCulture);
        }

        return "#" + Hex(Linear(1)) + Hex(Linear(3)) + Hex(Linear(5));
    }

    /// <summary>Draws a finished figure in this set: every fill and stroke of its text is exchanged, nothing else is touched.</summary>
    public string Redrawn(string svg)
    {
        if (inks is null) return svg;
        var drawn = svg.ToCharArray();
        bool isText = false;
        for (int i = 0; i + 9 < drawn.Length; i++)
        {
            if (svg[i] == '<' && svg[i + 1] != '/') isText = svg.AsSpan(i).StartsWith("<text ", StringComparison.Ordinal);
            // Quotes inside texts are escaped, so that only attributes can look like this.
            if (svg[i] != '=' || svg[i + 1] != '"' || svg[i + 2] != '#' || svg[i + 9] != '"') continue;
            string ink = svg.Substring(i + 2, 7);
            bool isFill = svg.AsSpan(0, i).EndsWith("fill", StringComparison.Ordinal);
            (isText && isFill ? Text(ink) : Shape(ink)).CopyTo(0, drawn, i + 2, 7);
        }

        return new string(drawn);
    }
}
