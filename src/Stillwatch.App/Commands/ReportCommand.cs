using System.CommandLine;
using Stillwatch.App.Jobs;
using Stillwatch.App.Json;
using Stillwatch.App.Pages;
using Stillwatch.App.Terminal;

namespace Stillwatch.App.Commands;

/// <summary><c>report FILE|FOLDER... --to NAME.pdf|.html|.png</c></summary>
internal static class ReportCommand
{
    private static readonly Lesson Lesson = new(
        "What do I hand over, on one page?",
        "Writes one page for a recording: what happened, in a sentence, in numbers, as a picture, with averaging, definitions, coverage and the hash of the file. "
        + "With --settings it writes the page of a settings decision instead: which settings, their load and what they would miss beside the present ones, "
        + "the ten checks with what speaks against a change, who accepted it and until when. The ending of --to says whether it becomes a PDF, a web page, or the main figure as a picture. "
        + "A decision is for one group of like patients. Nothing is applied, and nothing is replaced unless asked.",
        [("stillwatch report stillwatch-demo/patient-03-night-1.csv --to night.pdf --replace", "one night of an invented patient (after stillwatch demo)"),
         ("stillwatch report stillwatch-demo/patient-01-night-1.csv --settings stillwatch-demo/present-settings.json --to decision.pdf --replace --until \"3 June\"", "a decision for discussion, with lines to sign"),
         ("stillwatch report nights/ --category adult --present now.json --settings quieter.json --accepted-by \"monitoring lead\" --until \"3 June\" --to decision.html", "a decision that somebody accepted")],
        [("coverage", "the share of the recording that has a value; what happened in the rest is not known"),
         ("signals per patient-day", "physiological signals per 24 h of valid time, pooled per patient, with the interval from resampling patients"),
         ("could still be missed", "the exact one-sided 95 % bound: zero misses are not zero risk"),
         ("SHA-256", "by which a file can be recognised again; of many files, the hash of their list as sha256sum prints it")],
        ["A page is evidence, not an order. --accepted-by prints a name; it changes nothing on any monitor.",
         "Settings that the evidence does not support are printed with that warning, whoever accepted them."]);

    public static Command Create(Screen screen)
    {
        var paths = SharedOptions.Paths("paths", "FILE|FOLDER");
        var to = new Option<string>("--to") { HelpName = "FILE", Required = true, Description = "The file to write: " + string.Join(", ", HandoverJob.MediaTypes.Keys) };
        var replace = SharedOptions.Replace();
        var title = Words("--title", "TEXT", "The page's heading [from the files]");
        var scope = Words("--for", "TEXT", "For whom the decision is, in words");
        var why = Words("--why", "TEXT", "Why, or what else to say, in your own words");
        var acceptedBy = Words("--accepted-by", "NAME", "Who takes responsibility for the decision [nobody: lines to sign]");
        var acceptedOn = Words("--accepted-on", "DATE", "When it was accepted, as it should be printed");
        var until = Words("--until", "DATE", "Until when the decision holds, as it should be printed");
        var withMap = new Option<bool>("--with-map") { Description = "The settings map on a second page of a decision" };
        var reading = new ReadingOptions();
        var conditioning = new ConditioningOptions();
        var map = new MapOptions();
        var sideFiles = new SideFileOptions();
        var json = SharedOptions.Json();
        var command = new Command("report", "One page to hand over: a recording, or a settings decision") { paths, to, replace, title, scope, why, acceptedBy, acceptedOn, until, withMap };
        reading.AddTo(command);
        conditioning.AddTo(command);
        map.AddTo(command);
        sideFiles.AddTo(command);
        command.Options.Add(json);
        command.Validators.Add(result =>
        {
            bool decides = result.GetValue<string?>("--settings") is not null;
            if (!decides && (result.GetValue(scope) ?? result.GetValue(acceptedBy) ?? result.GetValue(acceptedOn) ?? result.GetValue(until)) is not null)
                result.AddError("found words of a decision without --settings, expected the settings that were decided on");
            if (!decides && result.GetValue(withMap)) result.AddError("found --with-map without --settings, expected the settings that were decided on");
            if (result.GetValue(acceptedOn) is not null && result.GetValue(acceptedBy) is null) result.AddError("found --accepted-on without --accepted-by, expected who accepted it");
        });
        TeachingHelp.Attach(command, Lesson, screen);
        command.SetAction(parsed =>
        {
            string target = parsed.GetRequiredValue(to);
            var side = sideFiles.Of(parsed) with { Log = LogChoice.Aside };
            var wishes = new HandoverWishes(parsed.GetValue(title), parsed.GetValue(scope), parsed.GetValue(why) ?? "", parsed.GetValue(acceptedBy), parsed.GetValue(acceptedOn), parsed.GetValue(until), parsed.GetValue(withMap));
            HandoverModel model;
            LoadedSet loaded;
            using (var progress = new ProgressLine(screen))
            {
                HandoverJob.CheckTarget(target, parsed.GetValue(replace), [.. side.Paths().Select(s => s.Path)]);
                loaded = new RecordingLoader(reading.Of(parsed), progress).Load(parsed.GetRequiredValue(paths));
                HandoverJob.CheckTarget(target, parsed.GetValue(replace), [.. loaded.Paths]);
                progress.Report("composing", 0, 0);
                model = side.Settings is null
                    ? HandoverJob.OfRecording(ReviewJob.Of(Only(loaded), conditioning.Of(parsed), side with { Settings = side.Present }), side with { Settings = side.Present }, wishes)
                    : HandoverJob.OfDecision(new TuneJob(map.Of(parsed, conditioning.Of(parsed)), side, progress).Run(loaded), side, wishes);
            }

            var written = HandoverJob.Write(model, target, parsed.GetValue(replace), TimeProvider.System.GetUtcNow());
            if (parsed.GetValue(json)) JsonPage.Write(screen.Out, writer => ReportJson.Write(writer, model, written));
            else ReportPage.Write(new Page(screen), model, written);
            return (int)Outcome.Of(loaded.Unreadable, screen);
        });
        return command;
    }

    /// <exception cref="StopException">Exit code 2: several recordings, and no settings to decide on; 3: none could be read.</exception>
    private static LoadedRecording Only(LoadedSet loaded)
    {
        if (loaded.Recordings.Count == 1) return loaded.Recordings[0];
        if (loaded.Recordings.Count == 0 && loaded.Unreadable.Count > 0) throw StopException.Unreadable(loaded.Unreadable[0].Trouble);
        throw StopException.Usage(new Trouble(
            "one page is for one recording", $"{loaded.Recordings.Count} recordings", "one file, or --settings for a decision over several", "the files named", "a folder was named; for a page over a whole ward there is stillwatch ward --report"));
    }

    private static Option<string?> Words(string name, string helpName, string description) => new(name) { HelpName = helpName, Description = description };
}
