using System.Text.RegularExpressions;
using Stillwatch.App.Workbench.Imports;

namespace Stillwatch.App.Tests.Workbench;

/// <summary>Whoever brings files in on the page is told of fields, not of options of a command.</summary>
public sealed partial class FieldWordsTests
{
    // What a reader says | what the page says.
    private const string Sayings = """
        "SpO2 1" is used: the first with usable numbers; --channel NAME picks another | "SpO2 1" is used: the first with usable numbers; the field “SpO2 is the column” picks another
        it bears the number of the SpO2 column; --map picks another | it bears the number of the SpO2 column; the field “Other columns” picks another
        day first; --date-order mdy (or ymd) says otherwise | day first; the field “Dates such as 03/04/2026 are” says otherwise
        none; if one is, name it with --map spo2=NAME | none; if one is, name it with the field “SpO2 is the column”
        not taken as such; if it is, name it with --map | not taken as such; if it is, name it in the field “Other columns”
        seconds; --map time-unit=ms says otherwise | seconds; “time-unit=ms” in the field “Other columns” says otherwise
        name a column you trust by its number, e.g. --map fio2=#50 or fio2=#-1 | name a column you trust by its number, e.g. “fio2=#50 or fio2=#-1” in the field “Other columns”
        an unusual header or none: name the column with --map time=NAME or --map time=#1, or declare the seconds from row to row with --period S, or the rows a second with --rate HZ | an unusual header or none: name the column with the field “Time is the column”, or fill in the field “Seconds from row to row”
        a code such as --- or -- is no option | a code such as --- or -- is no option
        """;

    public static TheoryData<string, string> Table => new(Sayings.Split('\n').Select(line => line.Split(" | ")).Select(cells => (cells[0], cells[1])));

    [Theory]
    [MemberData(nameof(Table))]
    public void An_option_is_called_by_the_field_that_does_the_same(string said, string shown) => Assert.Equal(shown, FieldWords.Of(said));

    [Fact]
    public void No_reader_says_an_option_for_which_the_page_has_no_field()
    {
        var said = Directory.EnumerateFiles(Path.Combine(Checkout(), "src", "Stillwatch.Formats"), "*.cs", SearchOption.AllDirectories)
            .Where(f => !f.Split(Path.DirectorySeparatorChar).Any(part => part is "obj" or "bin"))
            .SelectMany(File.ReadLines).Where(line => !line.TrimStart().StartsWith("//", StringComparison.Ordinal))
            .SelectMany(line => Literal().Matches(line)).Select(m => m.Groups[1].Value).Where(text => Option().IsMatch(text)).ToList();
        Assert.True(said.Count > 10, $"Only {said.Count} texts name an option: the search does not find them.");
        Assert.All(said, text => Assert.DoesNotMatch(Option(), FieldWords.Of(text)));
    }

    private static string Checkout()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Stillwatch.slnx"))) folder = folder.Parent;
        return folder?.FullName ?? throw new InvalidOperationException("These tests run inside the checkout.");
    }

    [GeneratedRegex("\"((?:[^\"\\\\]|\\\\.)*)\"")]
    private static partial Regex Literal();

    [GeneratedRegex("--[a-z]")]
    private static partial Regex Option();
}
