using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary>The demonstration with nights of two hours; its data are invented.</summary>
public sealed class DemoTests(SmallDemo demo) : IClassFixture<SmallDemo>
{
    [Fact]
    public void The_same_seed_writes_the_same_files_byte_for_byte_the_report_among_them()
    {
        using var again = new Folder();
        SmallDemo.Make(again["ward"]);
        string[] names = [.. Directory.GetFiles(demo.Path).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal)];
        Assert.Equal(24 + 5, names.Length);
        Assert.Equal(names, Directory.GetFiles(again["ward"]).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal));
        foreach (string name in names)
            Assert.True(File.ReadAllBytes(Path.Combine(demo.Path, name)).AsSpan().SequenceEqual(File.ReadAllBytes(again[$"ward/{name}"])), name);
    }

    [Fact]
    public void Every_file_that_can_say_so_says_that_the_data_are_invented()
    {
        foreach (string name in new[] { "ward.json", "present-settings.json", "must-catch.json", "report.html" })
            Assert.Contains("invented data", File.ReadAllText(Path.Combine(demo.Path, name)), StringComparison.OrdinalIgnoreCase);
        foreach (string command in new[] { "tune", "ward" })
            Assert.Contains("Invented data", Ran.With(command, demo.Path).Out, StringComparison.Ordinal);
    }

    [Fact]
    public void The_commands_that_the_page_names_give_the_numbers_of_the_page()
    {
        string present = demo.Model.Files.Present, catches = demo.Model.Files.MustCatch;
        var tune = Ran.With("tune", demo.Path, "--present", present, "--must-catch", catches, "--json").Json();
        Assert.Equal(demo.Model.Tuned.Map.MustCatchEvents, tune.GetProperty("mustCatch").GetArrayLength());
        Assert.Equal(demo.Model.Tuned.Present!.Load.Physiological.Signals, tune.GetProperty("present").GetProperty("signals").GetInt32());
        var ward = Ran.With("ward", demo.Path, "--present", present, "--must-catch", catches, "--json").Json();
        Assert.Equal("present", ward.GetProperty("settingsFrom").GetString());
        Assert.Equal(demo.Model.Ward.Load.Physiological.Signals, ward.GetProperty("load").GetProperty("signals").GetInt32());
        Assert.Equal(12, ward.GetProperty("patients").GetArrayLength());
        Assert.Equal(4, ward.GetProperty("groups").GetArrayLength());
    }

    [Theory]
    [InlineData("inspect")]
    [InlineData("review")]
    [InlineData("tune")]
    [InlineData("ward")]
    public void The_examples_of_the_help_run_after_the_demonstration(string command)
    {
        string[] examples = [.. Ran.With(command, "--help").Out.Split('\n').Where(l => l.StartsWith($"  stillwatch {command} stillwatch-demo", StringComparison.Ordinal))];
        Assert.NotEmpty(examples);
        using var folder = new Folder();
        foreach (string example in examples)
        {
            string[] args = [.. example.Trim().Split(' ').Skip(1).Select(a => a.Replace("stillwatch-demo", demo.Path, StringComparison.Ordinal).Replace("night.html", folder["night.html"], StringComparison.Ordinal))];
            var ran = Ran.With(args);
            Assert.True(ran.ExitCode == ExitCode.Done, example + "\n" + ran.Error);
        }
    }

    [Fact]
    public void A_patients_nights_are_one_patient_and_a_file_alone_keeps_what_its_ward_knows()
    {
        var alone = Ran.With("review", demo.Model.Files.Recording(0), "--json").Json();
        Assert.Equal("patient-01", alone.GetProperty("patient").GetString());
        Assert.Equal(8, alone.GetProperty("sourceAveragingSeconds").GetDouble());
        Assert.False(alone.GetProperty("categoryAssumed").GetBoolean());
        var both = Ran.With("tune", demo.Model.Files.Recording(0), demo.Model.Files.Recording(1), "--json").Json();
        Assert.Equal(1, both.GetProperty("patients").GetInt32());
    }

    [Fact]
    public void One_night_has_a_log_of_an_invented_monitor_that_averages_more_than_the_settings_say()
    {
        var fidelity = Ran.With("review", demo.Model.Files.Recording(4), "--settings", demo.Model.Files.Present, "--json").Json().GetProperty("fidelity");
        Assert.Equal("ward", fidelity.GetProperty("logFrom").GetString());
        var best = fidelity.GetProperty("betterChanges")[0];
        Assert.Equal("averaging over 8 s on top of the source's own", best.GetProperty("words").GetString());
        Assert.Equal(1, best.GetProperty("physiological").GetProperty("shareOfLogged").GetDouble());
        Assert.InRange(fidelity.GetProperty("physiological").GetProperty("matched").GetInt32(), 1, fidelity.GetProperty("physiological").GetProperty("logged").GetInt32());
    }

    [Fact]
    public void A_report_is_one_file_that_fetches_nothing()
    {
        string html = File.ReadAllText(demo.Model.Files.Report);
        Assert.StartsWith("<!DOCTYPE html>", html, StringComparison.Ordinal);
        Assert.DoesNotContain("<script", html, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("src=\"http", html, StringComparison.OrdinalIgnoreCase);
        Assert.Contains(demo.Model.Reviewed.Loaded.File.Sha256, html, StringComparison.Ordinal);
    }
}
