using System.Text;
using PdfSharp.Fonts;

namespace Stillwatch.Reports.Drawing;

/// <summary>The one typeface of PNG and PDF, which comes with the program: no font of the machine is looked for.</summary>
internal sealed class EmbeddedFont : IFontResolver
{
    public const string Family = "Liberation Sans";

    public static readonly byte[] Regular = Read("LiberationSans-Regular.ttf");
    public static readonly byte[] Bold = Read("LiberationSans-Bold.ttf");

    private static readonly Lock Once = new();

    /// <summary>Tells the PDF library, once for the whole program.</summary>
    public static void Register()
    {
        lock (Once) GlobalFontSettings.FontResolver ??= new EmbeddedFont();
    }

    public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic) => new(isBold ? "bold" : "regular");

    public byte[]? GetFont(string faceName) => faceName == "bold" ? Bold : Regular;

    /// <summary>A text as it is drawn: what could break a line or turn its direction is replaced, as in <see cref="Markup.Escape"/>.</summary>
    public static string Drawable(string text)
    {
        var safe = new StringBuilder(text.Length);
        foreach (char c in text)
        {
            safe.Append(c switch
            {
                '\u202a' or '\u202b' or '\u202c' or '\u202d' or '\u202e' or '\u2066' or '\u2067' or '\u2068' or '\u2069' => '\ufffd',
                '\n' or '\t' => ' ',
                _ when char.IsControl(c) => '\ufffd',
                _ => c,
            });
        }

        return safe.ToString();
    }

    private static byte[] Read(string name)
    {
        using var stream = typeof(EmbeddedFont).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"Found no {name} in the program, expected it as an embedded resource; the build left it out.");
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}
