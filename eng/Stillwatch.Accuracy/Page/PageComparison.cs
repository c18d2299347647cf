using System.Globalization;
using System.Text.RegularExpressions;

namespace Stillwatch.Accuracy.Page;

/// <summary>
/// A page that was written once beside what is measured now. Every decimal of a table may differ by one unit of its last printed digit, for
/// another machine's sine and logarithm may round otherwise in their last bit; every other difference, to the better too, makes the page untrue.
/// </summary>
internal static partial class PageComparison
{
    /// <summary>What differs, line by line; empty where the pages agree.</summary>
    /// <param name="written">The page as it stands in docs.</param>
    /// <param name="now">The page of this measurement.</param>
    /// <param name="passOver">Lines in which one of these stands are not compared: their data are not on this machine.</param>
    public static IReadOnlyList<string> Differences(string written, string now, IReadOnlyCollection<string> passOver)
    {
        string[] before = Lines(written, passOver), after = Lines(now, passOver);
        if (before.Length != after.Length) return [$"found {before.Length} lines in the page, expected {after.Length}: written by another version of the table"];
        return [.. before.Zip(after).Where(p => !Agree(p.First, p.Second)).Select(p => $"the page says  {p.First}\n  measured now {p.Second}")];
    }

    public static bool Agree(string written, string now)
    {
        // Only tables hold what was measured; a number in a sentence is a source's or a definition's.
        if (!written.StartsWith('|')) return written == now;
        var (before, after) = (Number().Matches(written), Number().Matches(now));
        if (before.Count != after.Count || Number().Replace(written, "#") != Number().Replace(now, "#")) return false;
        return before.Zip(after).All(p => Near(p.First.Value, p.Second.Value));
    }

    private static bool Near(string written, string now)
    {
        int decimals = DecimalsOf(written);
        // Whole numbers are counts, dates and names of records: they are exact.
        if (decimals == 0 || decimals != DecimalsOf(now)) return written == now;
        decimal unit = 1;
        for (int i = 0; i < decimals; i++) unit /= 10;
        return Math.Abs(decimal.Parse(written, CultureInfo.InvariantCulture) - decimal.Parse(now, CultureInfo.InvariantCulture)) <= unit;
    }

    private static int DecimalsOf(string number) => number.Contains('.') ? number.Length - number.IndexOf('.') - 1 : 0;

    private static string[] Lines(string page, IReadOnlyCollection<string> passOver)
    {
        var kept = new List<string>();
        string last = "";
        foreach (string line in page.ReplaceLineEndings("\n").TrimEnd().Split('\n'))
        {
            // A row's further figures have an empty first cell: they belong to the row above.
            if (line.StartsWith("| ", StringComparison.Ordinal) && !line.StartsWith("|  |", StringComparison.Ordinal)) last = line;
            string owner = line.StartsWith("|  |", StringComparison.Ordinal) ? last : line;
            if (!passOver.Any(p => owner.Contains($"(#{p})", StringComparison.Ordinal))) kept.Add(line);
        }

        return [.. kept];
    }

    [GeneratedRegex(@"(?<![\w.])-?\d+(\.\d+)?(?![\w.]*\d)")]
    private static partial Regex Number();
}
