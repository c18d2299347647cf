using System.Text;

namespace Stillwatch.Reports.Drawing;

/// <summary>Makes any text safe inside HTML and SVG, in elements and in quoted attributes.</summary>
internal static class Markup
{
    public static string Escape(string text)
    {
        var safe = new StringBuilder(text.Length + 16);
        for (int i = 0; i < text.Length; i++)
        {
            char c = text[i];
            switch (c)
            {
                case '&': safe.Append("&amp;"); break;
                case '<': safe.Append("&lt;"); break;
                case '>': safe.Append("&gt;"); break;
                case '"': safe.Append("&quot;"); break;
                case '\'': safe.Append("&#39;"); break;
                case '\n' or '\t': safe.Append(c); break;
                case '\u202a' or '\u202b' or '\u202c' or '\u202d' or '\u202e' or '\u2066' or '\u2067' or '\u2068' or '\u2069':
                    // Direction overrides in a file name could make the page read otherwise than it says.
                    safe.Append('\ufffd');
                    break;
                default:
                    if (char.IsHighSurrogate(c) && i + 1 < text.Length && char.IsLowSurrogate(text[i + 1])) safe.Append(c).Append(text[++i]);
                    else safe.Append(char.IsControl(c) || char.IsSurrogate(c) || c >= '\ufffe' ? '\ufffd' : c);
                    break;
            }
        }

        return safe.ToString();
    }
}
