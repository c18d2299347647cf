namespace Stillwatch.Reports.Handover;

/// <summary>One thing on a page to hand over, in reading order: the same list becomes HTML and PDF.</summary>
internal abstract record Block
{
    private Block()
    {
    }

    public sealed record Heading(string Words) : Block;

    /// <summary>Names what follows, without a rule across the page.</summary>
    public sealed record Name(string Words) : Block;

    /// <summary>What the page comes down to: larger, in bold.</summary>
    public sealed record Lead(string Words) : Block;

    /// <summary>Must not be overlooked: in a frame.</summary>
    public sealed record Warning(string Words) : Block;

    public sealed record Prose(string Words) : Block;

    /// <summary>Definitions, methods, hashes.</summary>
    public sealed record Fine(string Words) : Block;

    public sealed record Points(IReadOnlyList<string> Items, bool AreFine = false) : Block;

    /// <summary>A few numbers side by side, each with its name and what it is of.</summary>
    public sealed record Tiles(IReadOnlyList<Tile> Items) : Block;

    /// <summary>A table; the first <paramref name="TextColumns"/> columns are words, the rest numbers.</summary>
    public sealed record Grid(string Caption, IReadOnlyList<string> Heads, IReadOnlyList<IReadOnlyList<string>> Rows, int TextColumns) : Block;

    /// <summary>A figure over a share of the width, 0 to 1.</summary>
    public sealed record Drawn(Picture Picture, string Caption, double Share = 1) : Block;

    /// <summary>Lines to fill in by hand.</summary>
    public sealed record ToSign(IReadOnlyList<string> Labels) : Block;
}

/// <param name="Label">What it is.</param>
/// <param name="Value">The number with its unit.</param>
/// <param name="More">Of what, or beside what.</param>
internal sealed record Tile(string Label, string Value, string More);

/// <summary>Paper of a page to hand over, in millimetres, with the type sizes that are tried until all fits one page.</summary>
internal sealed record Paper(string Name, double Width, double Height, double Margin, IReadOnlyList<double> Sizes)
{
    /// <summary>Below the last size the small print could not be read; such a page rather becomes two in full size.</summary>
    public static readonly Paper A4 = new("A4", 210, 297, 13, [1, 0.95, 0.9, 0.86, 0.82, 0.79]);

    /// <summary>A card is read standing at a bed: as large as fits.</summary>
    public static readonly Paper A5 = new("A5", 148, 210, 10, [1.4, 1.3, 1.2, 1.1, 1, 0.92, 0.85]);
}
