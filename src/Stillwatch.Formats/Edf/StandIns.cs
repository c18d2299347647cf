using System.Globalization;

namespace Stillwatch.Formats.Edf;

/// <summary>
/// Counts that stand for the absence of a number. EDF has none of its own; files that Stillwatch writes say at the end of the transducer
/// field which count means what, in these words: "-32768 = no number; -32767 = no row". Any file that says so is read so.
/// </summary>
/// <param name="NoNumber">A row without a number; null: none.</param>
/// <param name="NoRow">Not a row at all: it fills up a data record. Null: none.</param>
internal readonly record struct StandIns(int? NoNumber, int? NoRow)
{
    public const string NoNumberWords = " = no number";
    public const string NoRowWords = " = no row";
    public const string Separator = "; ";

    public bool Any => NoNumber is not null || NoRow is not null;

    public static StandIns Of(string transducer)
    {
        int? noNumber = null, noRow = null;
        string rest = transducer.TrimEnd();
        while (rest.Length > 0)
        {
            int cut = rest.LastIndexOf(Separator, StringComparison.Ordinal);
            string last = cut < 0 ? rest : rest[(cut + Separator.Length)..];
            if (noNumber is null && Count(last, NoNumberWords) is { } number) noNumber = number;
            else if (noRow is null && Count(last, NoRowWords) is { } row) noRow = row;
            else break;
            rest = cut < 0 ? "" : rest[..cut];
        }

        return new StandIns(noNumber, noRow);
    }

    private static int? Count(string text, string words) =>
        text.EndsWith(words, StringComparison.Ordinal) && int.TryParse(text.AsSpan(0, text.Length - words.Length), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int count)
            ? count
            : null;
}
