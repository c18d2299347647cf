namespace Stillwatch.Reports.Drawing;

/// <summary>A repeating fill that tells without colour.</summary>
internal sealed record Pattern(string Name, int Size, bool IsSlanted, string Content)
{
    /// <summary>Nothing is known here.</summary>
    public static readonly Pattern Gap = new("gap", 6, true,
        $"<rect width=\"6\" height=\"6\" fill=\"{Ink.Wash}\"/><rect width=\"1.4\" height=\"6\" fill=\"{Ink.Hatch}\"/>");

    /// <summary>There were numbers here, and they do not count.</summary>
    public static readonly Pattern Doubted = new("doubted", 6, false,
        $"<rect width=\"6\" height=\"6\" fill=\"{Ink.Wash}\"/><circle cx=\"3\" cy=\"3\" r=\"1.1\" fill=\"{Ink.Hatch}\"/>");

    /// <summary>A must-catch event is missed here. A dark and a light stroke side by side show on any cell.</summary>
    public static readonly Pattern Missed = new("missed", 10, true,
        $"<rect width=\"1.4\" height=\"10\" fill=\"{Ink.Text}\"/><rect x=\"1.4\" width=\"1\" height=\"10\" fill=\"{Ink.Paper}\"/>");

    /// <summary>A signal is on so long here that few starts do not mean quiet.</summary>
    public static readonly Pattern LongOn = new("longon", 6, false,
        $"<rect y=\"1.5\" width=\"6\" height=\"1\" fill=\"{Ink.Text}\"/><rect y=\"2.5\" width=\"6\" height=\"1\" fill=\"{Ink.Paper}\"/>");

    /// <summary>A must-catch event is late here.</summary>
    public static readonly Pattern Late = new("late", 10, false,
        $"<circle cx=\"5\" cy=\"5\" r=\"2\" fill=\"{Ink.Paper}\"/><circle cx=\"5\" cy=\"5\" r=\"1.4\" fill=\"{Ink.Text}\"/>");
}
