using System.Globalization;
using System.Text;

namespace Stillwatch.Storage.Sql;

/// <summary>
/// Text as both databases can hold it. What a hostile file wrote may hold what neither or only one of them takes: a zero character, half
/// of a surrogate pair. Those are written as \u and four digits, and a backslash as two, so that any text comes back as it was.
/// </summary>
internal static class StoredText
{
    public static string Of(string text)
    {
        int at = FirstToEscape(text, 0);
        if (at < 0) return text;
        var escaped = new StringBuilder(text.Length + 8);
        int from = 0;
        for (; at >= 0; at = FirstToEscape(text, from))
        {
            escaped.Append(text, from, at - from);
            if (text[at] == '\\') escaped.Append(@"\\");
            else escaped.Append(@"\u").Append(((int)text[at]).ToString("X4", CultureInfo.InvariantCulture));
            from = at + 1;
        }

        return escaped.Append(text, from, text.Length - from).ToString();
    }

    public static string? OfOptional(string? text) => text is null ? null : Of(text);

    /// <exception cref="FormatException">A backslash that this class did not write.</exception>
    public static string Back(string stored)
    {
        int at = stored.IndexOf('\\', StringComparison.Ordinal);
        if (at < 0) return stored;
        var text = new StringBuilder(stored.Length);
        int from = 0;
        for (; at >= 0; at = stored.IndexOf('\\', from))
        {
            text.Append(stored, from, at - from);
            if (at + 1 < stored.Length && stored[at + 1] == '\\')
            {
                text.Append('\\');
                from = at + 2;
            }
            else if (at + 6 <= stored.Length && stored[at + 1] == 'u' && ushort.TryParse(stored.AsSpan(at + 2, 4), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out ushort code))
            {
                text.Append((char)code);
                from = at + 6;
            }
            else
            {
                throw new FormatException($"Found a backslash at {at}, expected it to be followed by another or by u and four digits.");
            }
        }

        return text.Append(stored, from, stored.Length - from).ToString();
    }

    public static string? BackOptional(string? stored) => stored is null ? null : Back(stored);

    private static int FirstToEscape(string text, int from)
    {
        for (int i = from; i < text.Length; i++)
        {
            char c = text[i];
            if (c is '\\' or '\0') return i;
            if (!char.IsSurrogate(c)) continue;
            if (char.IsHighSurrogate(c) && i + 1 < text.Length && char.IsLowSurrogate(text[i + 1])) i++;
            else return i;
        }

        return -1;
    }
}
