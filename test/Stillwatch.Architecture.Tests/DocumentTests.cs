using System.Globalization;
using System.Text.RegularExpressions;

namespace Stillwatch.Architecture.Tests;

/// <summary>What is promised in the documents is there: commands, links, dates, labels, tests of hazards.</summary>
public class DocumentTests
{
    private static readonly string[] FirstCommands = ["dotnet run -c Release --project src/Stillwatch.App -- demo", "./check"];

    [Fact]
    public void The_readme_starts_with_exactly_the_two_commands()
    {
        var commands = CommandBlocks(Checkout.Read("README.md")).SelectMany(block => block).Take(2);
        Assert.Equal(FirstCommands, commands);
        Assert.Equal(FirstCommands, CommandBlocks(Checkout.Read("README.md")).First());
    }

    [Fact]
    public void Every_link_inside_the_checkout_leads_somewhere()
    {
        var dead =
            from page in Checkout.Files("", ".md")
            from Match link in Regex.Matches(Checkout.Read(page), @"\]\((?<target>[^)#\s]+)(#[^)]*)?\)")
            let target = link.Groups["target"].Value
            where !target.Contains("://", StringComparison.Ordinal) && !target.StartsWith("mailto:", StringComparison.Ordinal)
            let path = Path.Combine(Checkout.Root, Path.GetDirectoryName(page)!, target)
            where !Path.Exists(path)
            select $"{page}: {target}";
        Findings.None(dead);
    }

    [Fact]
    public void Every_project_and_every_folder_of_the_core_is_on_the_map_of_folders()
    {
        var map = Checkout.Read("ARCHITECTURE.md");
        var places = Checkout.Projects("src").Select(p => Path.GetDirectoryName(p)!.Replace('\\', '/'))
            .Concat(Checkout.Files("src/Stillwatch", ".cs").Select(p => "…" + Path.GetDirectoryName(p)!.Replace('\\', '/')["src/Stillwatch".Length..]));
        Findings.None(places.Where(place => place != "…" && !map.Contains($"`{place}`", StringComparison.Ordinal)));
    }

    [Fact]
    public void Every_decision_page_bears_its_date_and_says_why()
    {
        foreach (var page in Checkout.Files("docs/decisions", ".md"))
        {
            var name = Path.GetFileNameWithoutExtension(page);
            Assert.True(name.Length > 11 && DateOnly.TryParseExact(name[..10], "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out _) && name[10] == '-',
                $"{page}: found a name without a date, expected yyyy-MM-dd-short-name.md");
            var text = Checkout.Read(page);
            Assert.True(text.StartsWith("# ", StringComparison.Ordinal), $"{page}: expected a title in its first line");
            Assert.True(Regex.IsMatch(text, @"\bdecisions?\b", RegexOptions.IgnoreCase), $"{page}: says nowhere what was decided");
            Assert.True(Regex.IsMatch(text, @"\b(why|because)\b", RegexOptions.IgnoreCase), $"{page}: says nowhere why");
        }
    }

    [Fact]
    public void Every_hazard_names_a_cause_a_control_and_a_test_that_exists()
    {
        var hazards = Tables.Rows(Checkout.Read("docs/safety.md"), "hazard");
        Assert.True(hazards.Count >= 15, $"found {hazards.Count} hazards, expected at least 15");
        foreach (var row in hazards)
        {
            Assert.All(row, cell => Assert.NotEqual("", cell));
            var named = Regex.Matches(row[^1], "`(?<name>[^`]+)`").Select(m => m.Groups["name"].Value).ToList();
            Assert.True(named.Count > 0, $"{row[0]}: names no test");
            foreach (var name in named)
                Assert.True(Tests.Names.Contains(name), $"{row[0]}: the test '{name}' is not in the test sources");
        }
    }

    [Fact]
    public void Every_option_of_the_program_is_in_the_list_of_labels()
    {
        var labels = Checkout.Read("docs/labels.md");
        var missing = Checkout.Files("src/Stillwatch.App", ".cs")
            .SelectMany(path => SourceText.CodeLines(path))
            .SelectMany(line => Regex.Matches(line.Text, @"""(?<option>--[a-z][a-z0-9-]+)""").Select(m => m.Groups["option"].Value))
            .Distinct()
            .Where(option => !labels.Contains($"`{option}", StringComparison.Ordinal));
        Findings.None(missing);
    }

    [Fact]
    public void Every_key_of_the_programs_json_is_in_the_list_of_labels()
    {
        var labels = Checkout.Read("docs/labels.md");
        var missing = Checkout.Files("src/Stillwatch.App/Json", ".cs")
            .SelectMany(path => SourceText.CodeLines(path))
            .SelectMany(line => Regex.Matches(line.Text, @"json\.\w+\(""(?<key>[a-z][A-Za-z0-9]*)""").Select(m => m.Groups["key"].Value))
            .Where(key => !labels.Contains($"`{key}`", StringComparison.Ordinal));
        Findings.None(missing);
    }

    [Fact]
    public void Every_label_has_one_of_three_origins()
    {
        var rows = Tables.Rows(Checkout.Read("docs/labels.md"), "label");
        Assert.True(rows.Count > 50, $"found {rows.Count} labels, expected the whole list");
        Assert.All(rows, row => Assert.True(Regex.IsMatch(row[^1], "^(trade|standard|own)\\b"), $"{row[0]}: origin '{row[^1]}'; expected trade, standard or own"));
    }

    [Fact]
    public void Every_page_that_a_user_reads_first_says_what_this_is_not()
    {
        foreach (var page in new[] { "README.md", "docs/safety.md" })
        {
            var text = Regex.Replace(Checkout.Read(page).Replace("*", "", StringComparison.Ordinal), @"\s+", " ");
            Assert.Contains("not a primary alarm", text, StringComparison.OrdinalIgnoreCase);
            Assert.Contains("not for diagnosis", text, StringComparison.OrdinalIgnoreCase);
            Assert.Contains("local policy", text, StringComparison.OrdinalIgnoreCase);
            Assert.Contains("invented", text, StringComparison.OrdinalIgnoreCase);
        }
    }

    private static IEnumerable<List<string>> CommandBlocks(string markdown)
    {
        foreach (Match block in Regex.Matches(markdown, "^```(?<kind>\\w*)\n(?<body>.*?)^```", RegexOptions.Multiline | RegexOptions.Singleline))
        {
            if (block.Groups["kind"].Value is "sh" or "bash" or "")
                yield return [.. block.Groups["body"].Value.Split('\n').Select(l => l.Trim()).Where(l => l.Length > 0)];
        }
    }
}
