namespace Stillwatch.Reports.Drawing;

/// <summary>How a shape is filled and outlined. A null fill or stroke is none.</summary>
internal readonly record struct Paint(string? Fill, string? Stroke = null, double Width = 1, string? Dash = null)
{
    public static Paint Line(string stroke, double width = 1, string? dash = null) => new(null, stroke, width, dash);
}

internal enum Anchor
{
    Start,
    Middle,
    End,
}

/// <summary>How a text is set. A halo keeps it legible on hatching and dark cells.</summary>
internal readonly record struct TextStyle(
    double Size = TextStyle.Normal,
    Anchor Anchor = Anchor.Start,
    string Fill = Ink.Text,
    bool Bold = false,
    string? Halo = null,
    double RotateDegrees = 0)
{
    public const double Normal = 14;
    public const double Small = 12.5;

    public TextStyle()
        : this(Normal)
    {
    }

    public static readonly TextStyle Tick = new(Small, Anchor.Middle, Ink.Muted);

    /// <summary>
    /// A careful guess of a text's width in pixels, on the wide side because the reader's fonts are not known.
    /// </summary>
    public double WidthOf(string text)
    {
        double em = 0;
        foreach (char c in text)
            em += c is 'i' or 'l' or 'j' or '.' or ',' or ':' or '\'' or '|' or 't' or 'f' or 'r' or ' ' or '\u00a0' ? 0.35 : c is 'm' or 'w' or 'M' or 'W' or '%' or '—' ? 0.92 : char.IsUpper(c) ? 0.7 : 0.6;
        return em * Size * (Bold ? 1.07 : 1);
    }

    /// <summary>The text, shortened with an ellipsis where it would be wider than <paramref name="room"/> pixels.</summary>
    public string Fit(string text, double room)
    {
        if (WidthOf(text) <= room) return text;
        int length = text.Length;
        while (length > 1 && WidthOf(text[..length] + "…") > room) length--;
        return text[..length].TrimEnd() + "…";
    }
}
