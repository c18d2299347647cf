using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary>Pages as they come out of a pipe: plain text that reads without colour.</summary>
public sealed class PageTests : IDisposable
{
    private readonly Folder folder = new();

    public PageTests()
    {
        Directory.CreateDirectory(folder["ward"]);
        folder.WriteNight("ward/a.csv");
        folder.WriteNight("ward/b.csv", 5000);
        folder.Write("settings.json", """
            { "format": "stillwatch.settings/1", "settings": [ { "name": "tried", "spo2Low": { "limit": 90, "delaySeconds": 15 } } ] }
            """);
    }

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("inspect {}/ward/a.csv {}/ward/b.csv")]
    [InlineData("review {}/ward/a.csv --settings {}/settings.json")]
    [InlineData("tune {}/ward --present {}/settings.json --settings {}/settings.json")]
    [InlineData("tune {}/ward --limits 50..60 --delays 7..9")]
    [InlineData("ward {}/ward --present {}/settings.json")]
    [InlineData("export {}/ward/a.csv --to {}/a.json --settings {}/settings.json")]
    [InlineData("export {}/ward/a.csv --to {}/a.csv --de-identify --secret {}/secret.txt")]
    public void A_page_asks_its_question_first_warns_last_and_fits_a_hundred_columns_without_colour(string line)
    {
        var ran = Ran.With(line.Split(' ').Select(a => a.Replace("{}", folder.Path, StringComparison.Ordinal)).ToArray());
        Assert.Equal(ExitCode.Done, ran.ExitCode);
        Assert.Empty(ran.Error);
        Assert.Contains("? ═", ran.Out.Split('\n')[0], StringComparison.Ordinal);
        Assert.EndsWith(string.Join(' ', Lesson.Caution), ran.Words, StringComparison.Ordinal);
        Assert.DoesNotContain('\u001b', ran.Out);
        foreach (string text in ran.Out.Split('\n').Where(l => !l.Contains(folder.Path, StringComparison.Ordinal)))
            Assert.True(text.TrimEnd().Length <= 100, text);
    }

    [Fact]
    public void A_label_can_neither_steer_the_terminal_nor_pass_for_markup()
    {
        folder.Write("hostile.csv", "Time,SpO2 [red]bold[/]\u001b[2J\u202e,[/]\n0,97,1\n1,96,1\n2,97,1\n3,98,1\n");
        var ran = Ran.With("inspect", folder["hostile.csv"]);
        Assert.Equal(ExitCode.Done, ran.ExitCode);
        Assert.Contains("[red]bold[/]", ran.Out, StringComparison.Ordinal);
        Assert.DoesNotContain('\u001b', ran.Out);
        Assert.DoesNotContain('\u202e', ran.Out);
    }

    [Fact]
    public void The_settings_map_marks_missed_events_and_the_present_cell_by_signs()
    {
        var ran = Ran.With("tune", folder["ward/a.csv"], "--present", folder["settings.json"]);
        // Three falls to 78 % for 120 s in three hours; limit 78 is never passed by a flat 78.
        Assert.Contains("(3)", ran.Out, StringComparison.Ordinal);
        Assert.Contains("L", ran.Out.Split('\n').First(l => l.TrimStart().StartsWith("85 %", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.Contains("M", ran.Out.Split('\n').First(l => l.TrimStart().StartsWith("80 %", StringComparison.Ordinal)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_definition_is_printed_once_however_many_recordings_share_it()
    {
        string page = Ran.With("ward", folder["ward"]).Out;
        Assert.Single(page.Split('\n'), l => l.StartsWith("Must-catch: ", StringComparison.Ordinal));
    }

    [Fact]
    public void An_assumed_category_is_said_on_every_page()
    {
        foreach (string command in new[] { "review", "tune" })
            Assert.Contains("no category was given", Ran.With(command, folder["ward/a.csv"]).Words, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("assumed", Ran.With("review", folder["ward/a.csv"], "--category", "adult").Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Progress_is_drawn_on_a_terminal_only()
    {
        using var error = new StringWriter();
        using (var progress = new Terminal.ProgressLine(Terminal.Screen.Plain(TextWriter.Null, error))) progress.Report("reading", 1, 2);
        Assert.Empty(error.ToString());
        using (var progress = new Terminal.ProgressLine(Terminal.Screen.Plain(TextWriter.Null, error) with { ErrorIsTerminal = true })) progress.Report("reading", 1, 2);
        Assert.Contains("[############............] reading 1/2", error.ToString(), StringComparison.Ordinal);
        Assert.EndsWith("\r", error.ToString(), StringComparison.Ordinal);
    }
}
