using System.Text;

namespace Stillwatch.Formats.Labels;

/// <summary>A header cell as words that can be recognised: "SpO₂ (%)" is spo2 and pct, "heart_rate_bpm" is heart, rate and permin.</summary>
internal sealed class LabelName
{
    private const string Accented = "àáâãäåāçćčèéêëēęìíîïīñńòóôõöøōùúûüūýÿ₂²";
    private const string Plain = "aaaaaaaccceeeeeeiiiiinnooooooouuuuuyy22";

    public LabelName(string raw, string unitBelow = "")
    {
        Raw = raw.Trim().Trim('\uFEFF').Trim();
        Words = [.. WordsOf($"{Raw} {unitBelow}")];
        Set = new HashSet<string>(Words, StringComparer.Ordinal);
    }

    /// <summary>As the file has it, without the blanks around.</summary>
    public string Raw { get; }

    public IReadOnlyList<string> Words { get; }

    /// <summary>The number at the end of the name ("SpO2 4" → 4), by which columns of one sensor belong together; null without.</summary>
    public int? Suffix
    {
        get
        {
            int start = Raw.Length;
            while (start > 0 && char.IsAsciiDigit(Raw[start - 1])) start--;
            bool standsAlone = start > 0 && Raw[start - 1] is ' ' or '_' or '-' or '.' or '#';
            return standsAlone && int.TryParse(Raw.AsSpan(start), out int number) ? number : null;
        }
    }

    private HashSet<string> Set { get; }

    public bool Has(string word) => Set.Contains(word);

    public bool HasAny(HashSet<string> words) => Set.Overlaps(words);

    private static string[] WordsOf(string text)
    {
        var folded = new StringBuilder(text.Length);
        foreach (char c in text.ToLowerInvariant())
        {
            int accent = Accented.IndexOf(c);
            if (c == 'æ') folded.Append("ae");
            else if (c == 'œ') folded.Append("oe");
            else if (c == 'ß') folded.Append("ss");
            else folded.Append(accent < 0 ? c : Plain[accent]);
        }

        folded.Replace("1/min", " permin ").Replace("/min", " permin ").Replace("min-1", " permin ").Replace("min⁻¹", " permin ")
            .Replace("%", " pct ").Replace("h:mm", " hms ").Replace("mm:ss", " hms ");
        return folded.ToString().Split([' ', '_', '-', '.', '/', '(', ')', '[', ']', '{', '}', ':', ',', ';', '#', '\'', '\t', '|'], StringSplitOptions.RemoveEmptyEntries);
    }
}
