using System.CommandLine;
using Stillwatch.App.Jobs;
using Stillwatch.App.Json;
using Stillwatch.App.Pages;
using Stillwatch.App.Terminal;

namespace Stillwatch.App.Commands;

/// <summary><c>review FILE</c></summary>
internal static class ReviewCommand
{
    private static readonly Lesson Lesson = new(
        "What happened in this recording?",
        "Counts exposure (time below 90, 88, 85 and 80 %), finds desaturation events and must-catch events, and says hour by hour "
        + "in words what went on. With --settings (or else --present) it also replays those settings: which signals they would have given, and which "
        + "must-catch events in time, late or never.",
        [("stillwatch review stillwatch-demo/patient-03-night-1.csv", "a night of an invented patient (after stillwatch demo)"),
         ("stillwatch review stillwatch-demo/patient-03-night-1.csv --settings stillwatch-demo/present-settings.json --report night.html", "the same with the present settings replayed, and a report to keep"),
         ("stillwatch review night.csv --settings in-force.json --log alarms.csv", "does the replay of the settings in force give what the monitor itself signalled?")],
        [("desaturation event", "a fall of at least 3 % from the mean of the 120 s before it, lasting at least 10 s; there is no accepted standard, so the definition stands beside every count. Not defined for series sparser than one value in 5 s"),
         ("ODI3, ODI4", "such events of at least 3 % and 4 % an hour of valid time"),
         ("must-catch event", "an event that settings may not miss: by the category's definition (unit policy, no source, unless a source is named) or by a reviewer's mark"),
         ("coverage", "the share of the recording that has a value; what happened in the rest is not known"),
         ("reproduced", "logged signals that the replay has too: the same condition, starts no farther apart than the tolerance; the share says how far a replay may be believed"),
         ("averaging", "the source's own (sourceAveragingSeconds; not known unless ward.json says it) and ours on top")],
        ["Averaging hides short falls: counts under different averaging times cannot be compared.",
         "Low values during motion or low perfusion may be artefact, and invalid time may hide a true fall. Look at the patient's notes."]);

    public static Command Create(Screen screen)
    {
        var file = SharedOptions.SinglePath("file", "FILE");
        var options = new JobOptions();
        var command = new Command("review", "What happened in this recording: exposure, events, hour by hour") { file };
        var log = new LogOptions();
        options.AddTo(command);
        log.AddTo(command);
        TeachingHelp.Attach(command, Lesson, screen);
        command.SetAction(parsed =>
        {
            var side = options.SideFiles.Of(parsed);
            side = side with { Settings = side.Settings ?? side.Present, Log = log.Of(parsed, options.Reading.Of(parsed).DateOrder) };
            side.Log.CheckSettings(side.Settings, "--settings");
            ReviewModel model;
            using (var progress = new ProgressLine(screen))
            {
                var loaded = new RecordingLoader(options.Reading.Of(parsed), progress).LoadFile(parsed.GetRequiredValue(file));
                ReportJob.CheckPath(parsed.GetValue(options.Report), [loaded.File.Path], side);
                side.CheckMarksAgainst([loaded.File.Path]);
                progress.Report("reviewing", 0, 0);
                model = ReviewJob.Of(loaded, options.Conditioning.Of(parsed), side);
            }

            if (parsed.GetValue(options.Report) is { } path) ReportJob.Write(path, ReportJob.Of(model, side));
            if (parsed.GetValue(options.Json)) JsonPage.Write(screen.Out, writer => ReviewJson.Write(writer, model));
            else ReviewPage.Write(new Page(screen), model, parsed.GetValue(options.Report));
            return (int)ExitCode.Done;
        });
        return command;
    }
}
