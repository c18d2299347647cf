using System.CommandLine;
using Stillwatch.App.Jobs;
using Stillwatch.App.Json;
using Stillwatch.App.Pages;
using Stillwatch.App.Terminal;
using Stillwatch.Signals;

namespace Stillwatch.App.Commands;

/// <summary><c>export FILE --to NAME.csv|…</c></summary>
internal static class ExportCommand
{
    private static readonly Lesson Lesson = new(
        "How do I take this recording out, into a format that others read?",
        "Writes a recording as CSV, EDF+, BDF+, Parquet or JSON, by the ending of the file. Desaturation and must-catch events, the signals of --settings "
        + "and the marks of --marks go with it as annotations, each with its origin, so that nobody takes them for the monitor's own words. "
        + "A manifest beside the file has hashes, definitions and what the format rounds or leaves out. Reading our own export gives back the recording. "
        + "Inputs are only read; nothing is replaced unless asked.",
        [("stillwatch export stillwatch-demo/patient-01-night-1.csv --to night.parquet --replace", "one night of the invented ward (after stillwatch demo)"),
         ("stillwatch export stillwatch-demo/patient-01-night-1.csv --to shared.json --replace --de-identify --secret my-secret.txt", "with dates shifted and names replaced")],
        [("annotations", "the source's own, events found, signals replayed, review marks; the manifest counts each kind"),
         ("manifest", "NAME.manifest.json beside the export; without it a CSV file loses units, exact rates and annotations"),
         ("notHeld", "what the format rounds, with the greatest error, or leaves out"),
         ("de-identified", "dates shifted by whole days under a kept secret, pseudonyms, texts left out; the page lists what remains")],
        ["De-identified is not anonymous: values, their pattern and the time of day remain. Whether it may be given away is for local policy and the law.",
         "Events and signals are computed here; the monitor may have signalled otherwise."]);

    public static Command Create(Screen screen)
    {
        var file = SharedOptions.SinglePath("file", "FILE");
        var to = new Option<string>("--to") { HelpName = "FILE", Required = true, Description = "The file to write; its ending names the format: " + ExportFiles.Endings };
        var replace = SharedOptions.Replace();
        var withoutEvents = new Option<bool>("--without-events") { Description = "Leave out desaturation and must-catch events" };
        var deIdentify = new Option<bool>("--de-identify") { Description = "Shift dates, replace names by pseudonyms, leave out free text; the page says what remains" };
        var secret = new Option<string?>("--secret") { HelpName = "FILE", Description = "The kept secret of --de-identify; made where there is none [in your application data unless given]" };
        var patient = new Option<string?>("--patient") { HelpName = "NAME", Description = "Whose recording it is, for --de-identify: the same name, the same shift and pseudonym [ward.json's, else the file's name]" };
        var reading = new ReadingOptions();
        var conditioning = new ConditioningOptions();
        var settings = SharedOptions.Settings();
        var mustCatch = SharedOptions.MustCatch();
        var marks = SharedOptions.Marks();
        var json = SharedOptions.Json();
        var command = new Command("export", "Take a recording out, in a format that others read") { file, to, replace, deIdentify, secret, patient, withoutEvents };
        reading.AddTo(command);
        conditioning.AddTo(command);
        command.Options.Add(settings);
        command.Options.Add(mustCatch);
        command.Options.Add(marks);
        command.Options.Add(json);
        command.Validators.Add(result =>
        {
            if (!result.GetValue(deIdentify) && (result.GetValue(secret) is not null || result.GetValue(patient) is not null))
                result.AddError("found --secret or --patient without --de-identify, expected all or none: without it names and dates are written as they are");
        });
        TeachingHelp.Attach(command, Lesson, screen);
        command.SetAction(parsed =>
        {
            var request = new ExportRequest(
                parsed.GetRequiredValue(to), parsed.GetValue(replace), !parsed.GetValue(withoutEvents), parsed.GetValue(deIdentify), parsed.GetValue(secret), parsed.GetValue(patient));
            string input = parsed.GetRequiredValue(file);
            var side = SideFiles.Read(parsed.GetValue(settings), present: null, parsed.GetValue(mustCatch), parsed.GetValue(marks));
            var writer = ExportJob.CheckTarget(request, input, side);
            ExportModel model;
            using (var progress = new ProgressLine(screen))
            {
                // Everything that the file holds, whatever the program makes of it.
                var choices = reading.Of(parsed) with { Wanted = Enum.GetValues<ChannelKind>().ToHashSet() };
                var loaded = new RecordingLoader(choices, progress).LoadFile(input);
                ExportJob.CheckParts(request, loaded);
                side.CheckMarksAgainst([loaded.File.Path]);
                progress.Report("writing", 0, 0);
                model = ExportJob.Run(loaded, request, writer, conditioning.Of(parsed), side);
            }

            if (parsed.GetValue(json)) JsonPage.Write(screen.Out, writing => ExportJson.Write(writing, model));
            else ExportPage.Write(new Page(screen), model);
            return (int)ExitCode.Done;
        });
        return command;
    }
}
