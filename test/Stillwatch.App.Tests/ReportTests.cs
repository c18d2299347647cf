using System.Net;
using System.Text.RegularExpressions;
using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary>What the reports of the commands say of the settings and the category they were given.</summary>
public sealed partial class ReportTests : IDisposable
{
    private const string Idea = """
        {"format": "stillwatch.settings/1", "settings": [{"name": "Night idea B", "spo2Low": {"limit": 88, "delaySeconds": 15}, "backstop": {"limit": 75, "delaySeconds": 5}}]}
        """;

    private readonly Folder folder = new();
    private readonly string night;
    private readonly string idea;

    public ReportTests()
    {
        night = folder.WriteNight("night.csv");
        idea = folder.Write("idea.json", Idea);
    }

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("review")]
    [InlineData("tune")]
    [InlineData("ward")]
    public void An_assumed_adult_is_said_in_the_report_and_a_named_category_is_not_doubted(string command)
    {
        string input = command == "ward" ? folder.Path : night;
        Assert.Contains("Category not given: an adult was assumed. Not to be used for a child", Report(command, input));
        Assert.DoesNotContain("assumed", Report(command, input, "--category", "adult"));
    }

    [Fact]
    public void A_review_calls_tried_settings_by_their_name_and_those_in_force_present()
    {
        string tried = Report("review", night, "--settings", idea);
        Assert.Contains("replayed settings “Night idea B”", tried);
        Assert.DoesNotContain("present settings", tried);
        string present = Report("review", night, "--present", idea);
        Assert.Contains("present settings", present);
        Assert.DoesNotContain("Night idea B", present);
        Assert.Contains("present settings", Report("review", night, "--present", idea, "--settings", idea));
    }

    [Fact]
    public void A_map_with_settings_asked_about_shows_them_beside_the_rest()
    {
        string text = Report("tune", night, "--settings", idea);
        Assert.Contains("No present settings were given", text);
        Assert.Contains("Settings “Night idea B”", text);
        Assert.DoesNotContain("Night idea B", Report("tune", night));
    }

    [Fact]
    public void The_same_settings_asked_about_and_present_have_the_same_numbers()
    {
        Report("tune", night, "--settings", idea, "--present", idea);
        var rows = Row().Matches(File.ReadAllText(folder["report.html"])).Select(m => Cell().Matches(m.Value).Select(c => c.Groups[1].Value).ToArray()).ToList();
        string[] Row1(string name) => [.. rows.First(r => r.Length == 6 && r[0] == name).Skip(1)];
        Assert.Equal(Row1("Present settings"), Row1("Settings “Night idea B”"));
    }

    [Fact]
    public void A_ward_counted_under_other_settings_than_those_in_force_says_so()
    {
        folder.WriteNight("night-2.csv", 2 * 3600); // another night: copies of one file count once
        string tried = Report("ward", folder.Path, "--settings", idea);
        Assert.Contains("The replayed settings “Night idea B” give", tried);
        Assert.DoesNotContain("present settings", tried);
        Assert.Contains("The preset settings of each category give", Report("ward", folder.Path));
    }

    private string Report(string command, string input, params string[] more)
    {
        var ran = Ran.With([command, input, .. more, "--report", folder["report.html"]]);
        Assert.True(ran.ExitCode is ExitCode.Done or ExitCode.Unreadable, ran.Error);
        return WebUtility.HtmlDecode(Tag().Replace(File.ReadAllText(folder["report.html"]), ""));
    }

    [GeneratedRegex("<[^>]*>")]
    private static partial Regex Tag();

    [GeneratedRegex("<tr>.*?</tr>", RegexOptions.Singleline)]
    private static partial Regex Row();

    [GeneratedRegex("<t[hd][^>]*>([^<]*)</t[hd]>")]
    private static partial Regex Cell();
}
