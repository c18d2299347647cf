using System.Text.Json;
using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;
using Stillwatch.Rehearsal.Scenarios;

namespace Stillwatch.App.Tests;

/// <summary>Invented patients as files.</summary>
public sealed class RehearseTests : IDisposable
{
    private readonly Folder folder = new();

    public static TheoryData<string> Names => [.. RehearsalScenarios.All.Select(s => s.Name)];

    public static TheoryData<string> Endings => ["csv", "edf", "bdf", "parquet", "json"];

    public void Dispose() => folder.Dispose();

    [Fact]
    public void The_list_names_every_scenario_with_its_title_and_story()
    {
        var page = Ran.With("rehearse", "--list");
        Assert.Equal(ExitCode.Done, page.ExitCode);
        var json = Ran.With("rehearse", "--list", "--json").Json();
        Assert.True(json.GetProperty("invented").GetBoolean());
        Assert.Equal(RehearsalScenarios.All.Count, json.GetProperty("scenarios").GetArrayLength());
        Assert.True(RehearsalScenarios.All.Count >= 12);
        foreach (var scenario in RehearsalScenarios.All)
        {
            Assert.Contains($"\n{scenario.Name}\n", page.Out, StringComparison.Ordinal);
            Assert.Contains(scenario.Title, page.Words, StringComparison.Ordinal);
            Assert.Contains(json.GetProperty("scenarios").EnumerateArray(), s => s.GetProperty("name").GetString() == scenario.Name && s.GetProperty("learningPoints").GetArrayLength() >= 3);
        }

        Keys(json.GetProperty("scenarios")[0], "name title story learningPoints category oxygen durationSeconds sourceAveragingSeconds");
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_scenario_is_written_and_read_again_and_says_that_it_is_invented(string name)
    {
        string to = folder["it.csv"];
        var ran = Ran.With("rehearse", name, "--minutes", "6", "--to", to);
        Assert.Equal(ExitCode.Done, ran.ExitCode);
        Assert.Contains("INVENTED", ran.Out, StringComparison.Ordinal);
        Assert.Contains("What staff may learn from it", ran.Out, StringComparison.Ordinal);
        Assert.Equal(ExitCode.Done, Ran.With("review", to).ExitCode);
        Assert.All(File.ReadLines(to).First().Split(',').Skip(1), label => Assert.EndsWith(" invented", label, StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Endings))]
    public void Numbers_and_light_go_into_every_format_and_come_back_with_their_rates(string ending)
    {
        string to = folder["cold." + ending], truth = folder["truth." + ending];
        var json = Ran.With("rehearse", "cold-hand", "--minutes", "2", "--to", to, "--light", "--truth", truth, "--json").Json();
        Keys(json, "invented scenario seed secondsTotal startWords episodes perSecond settings signals output truth software cautions");
        Assert.Equal(120, json.GetProperty("secondsTotal").GetInt32());
        Assert.Equal(120, json.GetProperty("perSecond").GetProperty("trueSpo2").GetArrayLength());
        var channels = Ran.With("inspect", to, "--json").Json().GetProperty("recordings")[0].GetProperty("channels").EnumerateArray().ToDictionary(c => c.GetProperty("label").GetString()!);
        Assert.Equal(["IR invented", "PI invented", "Pulse invented", "Quality invented", "Red invented", "SpO2 invented"], channels.Keys.Order(StringComparer.Ordinal));
        Assert.Equal(125, channels["IR invented"].GetProperty("rateHz").GetDouble());
        Assert.Equal("infraredLight", channels["IR invented"].GetProperty("kind").GetString());
        Assert.Equal("redLight", channels["Red invented"].GetProperty("kind").GetString());
        Assert.Equal(15_000, channels["Red invented"].GetProperty("validSamples").GetInt32());
        Assert.Equal(1, channels["SpO2 invented"].GetProperty("rateHz").GetDouble());
        // No format had to round the light: 15 bits where 16 are all there are.
        Assert.DoesNotContain(json.GetProperty("output").GetProperty("notHeld").EnumerateArray(), i => i.GetProperty("place").GetString()!.Contains("Red invented", StringComparison.Ordinal));
        var derived = Ran.With("derive", to, "--json").Json();
        Assert.Equal("IR invented", derived.GetProperty("channels")[0].GetProperty("label").GetString());
        Assert.True(derived.GetProperty("invented").GetBoolean());
        Assert.True(derived.GetProperty("secondsValid").GetInt32() > 60);
        Assert.Equal(ExitCode.Done, Ran.With("inspect", truth).ExitCode);
    }

    [Fact]
    public void The_same_name_and_seed_give_the_same_bytes_and_another_seed_others()
    {
        foreach (string ending in new[] { "json", "edf" })
        {
            string[] files = ["a." + ending, "b." + ending, "c." + ending];
            for (int i = 0; i < 3; i++) Ran.With("rehearse", "sensor-slipped", "--minutes", "3", "--light", "--seed", i == 2 ? "8" : "7", "--to", folder[files[i]]);
            Assert.Equal(File.ReadAllBytes(folder[files[0]]), File.ReadAllBytes(folder[files[1]]));
            Assert.NotEqual(File.ReadAllBytes(folder[files[0]]), File.ReadAllBytes(folder[files[2]]));
        }
    }

    [Theory]
    [MemberData(nameof(Endings))]
    public void What_is_made_of_a_rehearsal_is_still_invented(string ending) // the hazard log names this test
    {
        string to = folder["a." + ending];
        Ran.With("rehearse", "quiet-night", "--minutes", "3", "--light", "--to", to);
        Ran.With("derive", to, "--to", folder["b." + ending]);
        Ran.With("export", folder["b." + ending], "--to", folder["c.json"]);
        foreach (string name in new[] { "a." + ending, "b." + ending, "c.json" })
        {
            Assert.True(JsonDocument.Parse(File.ReadAllText(folder[name + ".manifest.json"])).RootElement.GetProperty("invented").GetBoolean(), name);
            Ran.With("review", folder[name], "--report", folder["page.html"]);
            Assert.Contains("Invented data. No patient", File.ReadAllText(folder["page.html"]), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_folder_that_is_not_there_is_named_and_no_draft_is()
    {
        string to = folder[Path.Combine("nowhere", "a.csv")];
        var ran = Ran.With("rehearse", "quiet-night", "--minutes", "1", "--to", to);
        Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
        Assert.Contains($"no folder '{Path.GetDirectoryName(to)}'", ran.ErrorWords, StringComparison.Ordinal);
        Assert.DoesNotContain("draft", ran.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_table_that_lost_its_manifest_still_says_invented()
    {
        Ran.With("rehearse", "quiet-night", "--minutes", "3", "--to", folder["a.csv"]);
        File.Delete(folder["a.csv.manifest.json"]);
        Ran.With("review", folder["a.csv"], "--report", folder["page.html"]);
        Assert.Contains("Invented data. No patient", File.ReadAllText(folder["page.html"]), StringComparison.Ordinal);
    }

    [Fact]
    public void The_teaching_page_sets_the_truth_beside_the_screen_and_lists_what_may_be_learnt()
    {
        Ran.With("rehearse", "hypoxaemia-behind-movement", "--to", folder["a.csv"], "--report", folder["page.html"]);
        string html = File.ReadAllText(folder["page.html"]);
        foreach (string words in new[] { "Invented data. No patient", "What may staff learn from it?", "truth, at the site", "The truth beside the screen", "Not a physiological reference" })
            Assert.Contains(words, html, StringComparison.Ordinal);
        foreach (string point in RehearsalScenarios.Find("hypoxaemia-behind-movement")!.LearningPoints) Assert.Contains(point.Split('.')[0], html, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("rehearse")]
    [InlineData("rehearse quiet-night")]
    [InlineData("rehearse --list --to x.csv")]
    [InlineData("rehearse quiet-night --list")]
    [InlineData("rehearse of-no-such-name --to x.csv")]
    [InlineData("rehearse quiet-night --to x.docx")]
    [InlineData("rehearse quiet-night --to x.csv --minutes 0")]
    [InlineData("rehearse quiet-night --to x.csv --seed -3")]
    [InlineData("rehearse quiet-night --to x.csv --truth x.csv")]
    [InlineData("rehearse quiet-night --to x.csv --report x.csv")]
    [InlineData("rehearse --no-such-option --to x.csv")]
    public void What_cannot_be_meant_ends_with_code_2_and_writes_nothing(string line)
    {
        string[] args = [.. line.Split(' ').Select(a => a.StartsWith("x.", StringComparison.Ordinal) ? folder[a] : a)];
        var ran = Ran.With(args);
        Assert.Equal(ExitCode.Usage, ran.ExitCode);
        Assert.NotEqual("", ran.Error);
        Assert.Empty(Directory.GetFiles(folder.Path));
    }

    [Fact]
    public void A_file_that_is_there_is_kept_unless_asked_and_both_files_appear_or_none()
    {
        folder.Write("truth.csv", "mine\n");
        Assert.Equal(ExitCode.Usage, Ran.With("rehearse", "quiet-night", "--minutes", "2", "--to", folder["a.csv"], "--truth", folder["truth.csv"]).ExitCode);
        Assert.Equal(["truth.csv"], Directory.GetFiles(folder.Path).Select(Path.GetFileName));
        Assert.Equal(ExitCode.Done, Ran.With("rehearse", "quiet-night", "--minutes", "2", "--to", folder["a.csv"], "--truth", folder["truth.csv"], "--replace").ExitCode);
        Assert.NotEqual("mine\n", File.ReadAllText(folder["truth.csv"]));
        Assert.Equal(ExitCode.Unreadable, Ran.With("rehearse", "quiet-night", "--minutes", "2", "--to", folder["nowhere/a.csv"]).ExitCode);
    }

    private static void Keys(JsonElement element, string expected) =>
        Assert.Equal(expected.Split(' ').Order(StringComparer.Ordinal), element.EnumerateObject().Select(p => p.Name).Order(StringComparer.Ordinal));
}
