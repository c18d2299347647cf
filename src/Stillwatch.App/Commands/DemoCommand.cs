using System.CommandLine;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.App.Pages;
using Stillwatch.App.Terminal;
using Stillwatch.App.Workbench;
using Stillwatch.App.Workbench.Imports;
using Stillwatch.Formats;
using Stillwatch.Rehearsal;
using Stillwatch.Storage;

namespace Stillwatch.App.Commands;

/// <summary><c>demo</c>: the whole job on an invented ward, by the same roads that the other commands take.</summary>
internal static class DemoCommand
{
    private static readonly Lesson Lesson = new(
        "What does Stillwatch do?",
        "Makes an invented ward of twelve patients with two nights each, writes its files, reads them back, and does the whole job "
        + "on them: what is in a file, what happened in a night, what the alarm load is and who causes it, which settings would "
        + "have kept every must-catch event, and a report. The same seed gives the same files, byte for byte. The files stay, so "
        + "that every command can be tried on them. Where a person sees the output it then opens the workbench on that ward, as stillwatch serve does, until Ctrl+C.",
        [("stillwatch demo", "writes into ./stillwatch-demo"),
         ("stillwatch demo --folder /tmp/other --seed 7", "another invented ward"),
         ("stillwatch demo --workbench no", "the files and the report alone")],
        [("invented", "made by a rehearsal with a known truth; every page and file says so")],
        ["The data are invented: they show how the program works, and nothing about patients or settings."]);

    public static Command Create(Screen screen)
    {
        var folder = new Option<string>("--folder") { HelpName = "DIR", Description = "Where to write; files of the same names are replaced [./stillwatch-demo unless given]", DefaultValueFactory = _ => Path.Combine(".", "stillwatch-demo") };
        var seed = SharedOptions.Seed(DemoWard.DefaultSeed);
        var json = SharedOptions.Json();
        var workbench = new Option<string>("--workbench") { HelpName = "yes|no", Description = "Whether the workbench opens on the ward afterwards [yes where a person sees the output, no in a pipe and with --json]" };
        workbench.AcceptOnlyFromAmong("yes", "no");
        var port = ServeCommand.Port();
        var command = new Command("demo", "The whole job on an invented ward, in under half a minute; then the workbench") { folder, seed, json, workbench, port };
        TeachingHelp.Attach(command, Lesson, screen);
        command.SetAction(async (parsed, cancellation) =>
        {
            string path = parsed.GetRequiredValue(folder);
            bool asJson = parsed.GetValue(json);
            Show(screen, path, parsed.GetValue(seed), asJson);
            bool opens = parsed.GetValue(workbench) is { } told ? told == "yes" : screen.OutIsTerminal && !asJson;
            if (opens) await OpenWorkbenchAsync(screen, path, parsed.GetValue(port), cancellation);
            return (int)ExitCode.Done;
        });
        return command;
    }

    private static void Show(Screen screen, string folder, ulong seed, bool asJson)
    {
        DemoModel model;
        using (var progress = new ProgressLine(screen)) model = DemoJob.Run(DemoWard.Compose(seed), folder, progress);
        if (asJson) Json.JsonPage.Write(screen.Out, writer => Json.DemoJson.Write(writer, model));
        else DemoPage.Write(new Page(screen), model);
    }

    /// <summary>A library of its own beside the ward's files: nobody's own recordings and the invented ones get mixed up.</summary>
    private static async Task OpenWorkbenchAsync(Screen screen, string folder, int port, CancellationToken cancellation)
    {
        string data = Path.Combine(Path.GetFullPath(folder), "workbench");
        await using var store = await StoreOptions.OpenAsync(new StorePlace.SqliteFile(StoreOptions.StoreIn(data)), TimeProvider.System, cancellation);
        using (var progress = new ProgressLine(screen))
        {
            var everything = new ReadingChoices(ColumnMap.Empty, Channel: null, Category: null) { Wanted = ImportBatch.Everything };
            await new ImportBatch(everything, patient: null, unit: "Demo ward", asRead: false, SettingsFile.Read(Path.Combine(folder, DemoFiles.PresentName))).RunAsync([folder], new ImportService(store), progress, cancellation);
        }

        await ServeCommand.RunAsync(new WorkbenchOptions(store, ServeCommand.AddressOf(null, port), Path.Combine(data, "arrivals"), TimeProvider.System), screen, cancellation);
    }
}
