using System.CommandLine;
using Stillwatch.App.Jobs;
using Stillwatch.App.Json;
using Stillwatch.App.Pages;
using Stillwatch.App.Terminal;

namespace Stillwatch.App.Commands;

/// <summary><c>ward FOLDER</c></summary>
internal static class WardCommand
{
    private static readonly Lesson Lesson = new(
        "What is our alarm load, and who and what causes it?",
        "Replays settings over every recording of a folder and gives the alarm load per patient-day, each patient's part in it, and "
        + "the groups within which settings may be compared. The settings are those of --settings (looked at) or --present (in "
        + "force at the time); without either, each category's preset. ward.json in the folder says whose each recording is "
        + "(docs/files.md); without it every file is a patient of its own.",
        [("stillwatch ward stillwatch-demo --present stillwatch-demo/present-settings.json", "the invented ward (after stillwatch demo)"),
         ("stillwatch ward nights/ --category adult --json", "a folder of your own, for another program to read")],
        [("physiological load", "signals about the patient per 24 h of valid time"),
         ("technical load", "signals about the measurement (no reading, low perfusion …) per 24 h connected; never added to the other"),
         ("patient-day", "24 h of the time named, of any patients"),
         ("share", "a patient's part of all physiological signals; few patients usually give most of them"),
         ("group", "recordings alike in category, source averaging, oxygen, sampling and must-catch definition")],
        ["A loud patient may be the sickest one: quieten nobody by the count alone.",
         "A load per day from few hours is uncertain; tune gives intervals."]);

    public static Command Create(Screen screen)
    {
        var folder = SharedOptions.SinglePath("folder", "FOLDER");
        var options = new JobOptions();
        var command = new Command("ward", "What is the alarm load of a folder of recordings, and who causes it") { folder };
        options.AddTo(command);
        TeachingHelp.Attach(command, Lesson, screen);
        command.SetAction(parsed =>
        {
            var side = options.SideFiles.Of(parsed);
            WardModel model;
            using (var progress = new ProgressLine(screen))
            {
                var loaded = new RecordingLoader(options.Reading.Of(parsed), progress).LoadFolder(parsed.GetRequiredValue(folder));
                ReportJob.CheckPath(parsed.GetValue(options.Report), loaded.Paths, side);
                model = WardJob.Run(loaded, options.Conditioning.Of(parsed), side, progress);
                if (parsed.GetValue(options.Report) is { } path)
                {
                    progress.Report("writing the report", 0, 0);
                    ReportJob.Write(path, ReportJob.Of(model, options.Conditioning.Of(parsed), side));
                }
            }

            if (parsed.GetValue(options.Json)) JsonPage.Write(screen.Out, writer => WardJson.Write(writer, model));
            else WardPage.Write(new Page(screen), model, parsed.GetValue(options.Report));
            return (int)Outcome.Of(model.Loaded.Unreadable, screen);
        });
        return command;
    }
}
