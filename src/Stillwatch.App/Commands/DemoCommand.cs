using System.CommandLine;
using Stillwatch.App.Jobs;
using Stillwatch.App.Pages;
using Stillwatch.App.Terminal;
using Stillwatch.Rehearsal;

namespace Stillwatch.App.Commands;

/// <summary><c>demo</c>: the whole job on an invented ward, by the same roads that the other commands take.</summary>
internal static class DemoCommand
{
    private static readonly Lesson Lesson = new(
        "What does Stillwatch do?",
        "Makes an invented ward of twelve patients with two nights each, writes its files, reads them back, and does the whole job "
        + "on them: what is in a file, what happened in a night, what the alarm load is and who causes it, which settings would "
        + "have kept every must-catch event, and a report. The same seed gives the same files, byte for byte. The files stay, so "
        + "that every command can be tried on them.",
        [("stillwatch demo", "writes into ./stillwatch-demo"),
         ("stillwatch demo --folder /tmp/other --seed 7", "another invented ward")],
        [("invented", "made by a rehearsal with a known truth; every page and file says so")],
        ["The data are invented: they show how the program works, and nothing about patients or settings."]);

    public static Command Create(Screen screen)
    {
        var folder = new Option<string>("--folder") { HelpName = "DIR", Description = "Where to write; files of the same names are replaced [./stillwatch-demo unless given]", DefaultValueFactory = _ => Path.Combine(".", "stillwatch-demo") };
        var seed = SharedOptions.Seed(DemoWard.DefaultSeed);
        var json = SharedOptions.Json();
        var command = new Command("demo", "The whole job on an invented ward, in under half a minute") { folder, seed, json };
        TeachingHelp.Attach(command, Lesson, screen);
        command.SetAction(parsed => (int)Run(screen, parsed.GetRequiredValue(folder), parsed.GetValue(seed), parsed.GetValue(json)));
        return command;
    }

    private static ExitCode Run(Screen screen, string folder, ulong seed, bool asJson)
    {
        DemoModel model;
        using (var progress = new ProgressLine(screen)) model = DemoJob.Run(DemoWard.Compose(seed), folder, progress);
        if (asJson) Json.JsonPage.Write(screen.Out, writer => Json.DemoJson.Write(writer, model));
        else DemoPage.Write(new Page(screen), model);
        return ExitCode.Done;
    }
}
