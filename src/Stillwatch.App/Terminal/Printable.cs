using System.Globalization;

namespace Stillwatch.App.Terminal;

/// <summary>Text of files on a terminal: a label may hold anything, and must not steer the terminal or turn the line around.</summary>
public static class Printable
{
    private const char Replacement = '\uFFFD';

    /// <summary>The text with every control character (line feeds apart) and every invisible direction mark replaced.</summary>
    public static string Of(string text)
    {
        if (!text.AsSpan().ContainsAnyExceptInRange(' ', '~')) return text;
        return string.Create(text.Length, text, static (to, from) =>
        {
            for (int i = 0; i < from.Length; i++) to[i] = IsHarmless(from[i]) ? from[i] : Replacement;
        });
    }

    private static bool IsHarmless(char c) =>
        c == '\n' || char.GetUnicodeCategory(c) is not (UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator);
}
