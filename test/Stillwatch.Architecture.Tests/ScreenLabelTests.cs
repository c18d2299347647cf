using System.Net;
using System.Text.RegularExpressions;

namespace Stillwatch.Architecture.Tests;

/// <summary>Every word on the workbench that names something stands in docs/labels.md with its origin, so that none comes from an existing product unnoticed.</summary>
public class ScreenLabelTests
{
    // What names a thing: headings, buttons, fields, columns, terms, entries of the navigation, what unfolds.
    private static readonly Regex Naming = new(
        @"<(?<tag>h1|h2|h3|h4|button|label|th|dt|legend|summary|NavLink|option|figcaption|span class=""label"")\b(?:[^>""]|""[^""]*"")*>(?<text>[^<]*)", RegexOptions.CultureInvariant);

    private static readonly Regex Spoken = new(@"\baria-label=""(?<text>[^""@]+)""", RegexOptions.CultureInvariant);

    [Fact]
    public void Every_label_on_screen_is_in_the_list_of_labels()
    {
        var listed = Listed();
        var missing =
            from path in Checkout.Files("src/Stillwatch.App/Workbench", ".razor")
            from label in LabelsIn(Checkout.Read(path))
            where !listed.Contains(label)
            select $"{label}   ({path})";
        Findings.None(missing);
    }

    [Theory]
    [InlineData("<h2 class=\"x\">Trend table</h2>", "trend table")]
    [InlineData("<button type=\"button\" @onclick=\"Go\">Undo <kbd>U</kbd></button>", "undo")]
    [InlineData("<button @onclick=\"() => End(null)\" class=\"@(a ? \"b\" : null)\">Stop here</button>", "stop here")]
    [InlineData("<th class=\"n\">Missed</th>", "missed")]
    [InlineData("<nav aria-label=\"Pages\">", "pages")]
    [InlineData("<h1>@Title</h1>", null)]
    [InlineData("<p>any sentence</p>", null)]
    public void The_check_itself_finds_labels_and_leaves_sentences(string markup, string? label) =>
        Assert.Equal(label is null ? [] : [label], LabelsIn(markup));

    private static IEnumerable<string> LabelsIn(string markup) => Naming.Matches(markup).Concat(Spoken.Matches(markup))
        .Select(m => m.Groups["text"].Value)
        .Where(text => !text.Contains('@', StringComparison.Ordinal))
        .Select(Plain)
        .Where(text => text.Any(char.IsLetter) && text.Split(' ').Length <= MostWords)
        .Distinct();

    /// <summary>Longer than this it is a sentence, which is nobody's label.</summary>
    private const int MostWords = 6;

    private static string Plain(string text) => Regex.Replace(WebUtility.HtmlDecode(text), @"\s+", " ").Trim().TrimEnd(':', '…', '?', '.', '(').Trim().ToLowerInvariant();

    private static HashSet<string> Listed() =>
        [.. Tables.Rows(Checkout.Read("docs/labels.md"), "label").SelectMany(row => row[0].Split(" · ")).Select(cell => Plain(cell.Replace("`", "", StringComparison.Ordinal)))];
}
