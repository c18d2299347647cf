using System.CommandLine;
using Stillwatch.App.Jobs;
using Stillwatch.App.Json;
using Stillwatch.App.Pages;
using Stillwatch.App.Terminal;

namespace Stillwatch.App.Commands;

/// <summary><c>tune FILE|FOLDER...</c></summary>
internal static class TuneCommand
{
    private static readonly Lesson Lesson = new(
        "Which settings would have kept every must-catch event, with the fewest signals?",
        "Draws the settings map (signals, missed and late must-catch events for every limit, delay and area threshold), replays the "
        + "settings in force, and proposes settings that the evidence supports, or refuses and says why. Recordings are put together "
        + "only where category, source averaging, oxygen and sampling are alike. A proposal is for a person to accept or not; "
        + "nothing is ever applied. In a folder, ward.json says whose each recording is (docs/files.md); without it every file "
        + "is a patient of its own.",
        [("stillwatch tune stillwatch-demo --present stillwatch-demo/present-settings.json", "the invented ward (after stillwatch demo)"),
         ("stillwatch tune stillwatch-demo/patient-01-night-1.csv", "one night of one patient: a map, and an honest refusal"),
         ("stillwatch tune nights/ --category adult --averaging 8 --delays 0..120/5 --json", "a folder of your own, for another program to read")],
        [("signal", "one start of an alarm in an unattended run without latching; the map counts totals over what was monitored, not per day"),
         ("load", "signals per 24 h of valid time, pooled over patients, with the interval from resampling patients"),
         ("in time, late, missed", "a signal active at some instant from onset to onset + T; first active later, before the event's end; never"),
         ("up to", "the exact one-sided 95 % bound on the share missed: zero misses are not zero risk (missedUpperBound, 0–1)"),
         ("backstop", "a second, lower limit with its own short delay that nothing holds back; the map is drawn without it, the search with it")],
        ["A refusal is an answer: exit code 0. Do not take a cell of the map as a proposal that was not made.",
         "Staff answered the alarms that sounded then, so events were cut short: longer delays look safer in old recordings than they are.",
         "Settings found for one category, averaging time or oxygen status say nothing about another."]);

    public static Command Create(Screen screen)
    {
        var paths = SharedOptions.Paths("paths", "FILE|FOLDER");
        var options = new JobOptions();
        var map = new MapOptions();
        var command = new Command("tune", "Which settings fit: the settings map, and a proposal or an honest refusal") { paths };
        var log = new LogOptions();
        options.AddTo(command, map);
        log.AddTo(command);
        TeachingHelp.Attach(command, Lesson, screen);
        command.SetAction(parsed =>
        {
            var request = map.Of(parsed, options.Conditioning.Of(parsed));
            var side = options.SideFiles.Of(parsed) with { Log = log.Of(parsed, options.Reading.Of(parsed).DateOrder) };
            side.Log.CheckSettings(side.Present, "--present");
            TuneModel model;
            using (var progress = new ProgressLine(screen))
            {
                var loaded = new RecordingLoader(options.Reading.Of(parsed), progress).Load(parsed.GetRequiredValue(paths));
                ReportJob.CheckPath(parsed.GetValue(options.Report), loaded.Paths, side);
                model = new TuneJob(request, side, progress).Run(loaded);
                if (parsed.GetValue(options.Report) is { } path)
                {
                    progress.Report("writing the report", 0, 0);
                    ReportJob.Write(path, ReportJob.Of(model, ward: null, side));
                }
            }

            if (parsed.GetValue(options.Json)) JsonPage.Write(screen.Out, writer => TuneJson.Write(writer, model));
            else TunePage.Write(new Page(screen), model, parsed.GetValue(options.Report));
            return (int)Outcome.Of(model.Loaded.Unreadable, screen);
        });
        return command;
    }
}
