using System.CommandLine;
using Stillwatch.App.Jobs;
using Stillwatch.App.Json;
using Stillwatch.App.Pages;
using Stillwatch.App.Terminal;
using Stillwatch.Formats.Exports;

namespace Stillwatch.App.Commands;

/// <summary><c>derive FILE</c></summary>
internal static class DeriveCommand
{
    private static readonly Lesson Lesson = new(
        "What numbers does this light give, and which of them can be trusted?",
        "Takes red and infrared light, or one pleth, and derives beats, pulse rate, ratio, SpO2, perfusion index, quality and respiratory rate from it, second by second. "
        + "A number that cannot be trusted is refused, and the state says why: motion, flicker, sensor off, no pulse. From one pleth there is no SpO2. "
        + "With --to the numbers become a recording that review and the others read; it says in every label and note that no monitor gave it.",
        [("stillwatch rehearse cold-hand --to cold.json --light --replace", "first an invented patient with light, for there is none in the demo's files"),
         ("stillwatch derive cold.json --report cold.html", "its numbers, and a page with light, beats, ratio and SpO2 under each other"),
         ("stillwatch derive pleth.csv --map 'pleth=PLETH,time=none' --rate 125 --to derived.edf", "a pleth of your own at 125 samples a second")],
        [("valid", "seconds with numbers; the rest is counted by its state (secondsValid of secondsTotal)"),
         ("ratio", "of ratios: red over infrared, each its pulse relative to its mean; SpO2 is read from it by the calibration curve"),
         ("perfusion", "pulse amplitude, trough to peak, over mean infrared light, in %; none for a pleth of unknown zero"),
         ("quality", "0 to 1, how like its neighbours each beat is; a scale of ours"),
         ("respiratory rate", "from three ways in which breathing changes the pulse, a value for each window of 32 s; refused where they disagree")],
        ["Derived by Stillwatch with a named textbook curve or your own table: not the monitor's reading. No device's own curve is published, and between textbook curves lie several percent.",
         "A state is about the measurement. \"No pulse found\" is a reason to look at the patient, not a finding."]);

    public static Command Create(Screen screen)
    {
        var file = SharedOptions.SinglePath("file", "FILE");
        var to = new Option<string?>("--to") { HelpName = "FILE", Description = "Write the derived numbers to this file; its ending names the format: " + ExportFiles.Endings };
        var replace = SharedOptions.Replace();
        var how = new DeriveOptions();
        var reading = new ReadingOptions(forRules: false, forLight: true);
        var report = SharedOptions.Report();
        var json = SharedOptions.Json();
        var command = new Command("derive", "What numbers does the light of a recording give: beats, SpO2, quality, states") { file, to, replace };
        how.AddTo(command);
        reading.AddTo(command);
        command.Options.Add(report);
        command.Options.Add(json);
        TeachingHelp.Attach(command, Lesson, screen);
        command.SetAction(parsed =>
        {
            string input = parsed.GetRequiredValue(file);
            string? target = parsed.GetValue(to), page = parsed.GetValue(report), curveFile = how.CurveFile(parsed);
            string[] inputs = [input, input + ExportManifest.Suffix, .. curveFile is null ? Array.Empty<string>() : [curveFile]];
            var writer = target is null ? null : ExportFiles.CheckTarget(target, parsed.GetValue(replace), inputs);
            CheckReport(page, target, inputs);
            var settings = how.Of(parsed);
            DeriveModel model;
            using (var progress = new ProgressLine(screen))
            {
                var loaded = new RecordingLoader(reading.Of(parsed), progress).LoadFile(input);
                string[] read = [loaded.File.Path, .. loaded.File.Parts.Select(p => Path.Combine(Path.GetDirectoryName(input) ?? string.Empty, p.Name))];
                if (target is not null) ExportFiles.RefuseInputs(target, read);
                CheckReport(page, target, read);
                progress.Report("deriving", 0, 0);
                model = DeriveJob.Of(loaded, settings, curveFile);
                if (target is not null)
                {
                    progress.Report("writing", 0, 0);
                    model = DeriveJob.Write(model, target, writer!, parsed.GetValue(replace));
                }

                if (page is not null)
                {
                    progress.Report("writing the report", 0, 0);
                    ReportJob.Write(page, DeriveReport.Of(model));
                }
            }

            if (parsed.GetValue(json)) JsonPage.Write(screen.Out, writing => DeriveJson.Write(writing, model));
            else DerivePage.Write(new Page(screen), model, page);
            return (int)ExitCode.Done;
        });
        return command;
    }

    private static void CheckReport(string? report, string? to, IEnumerable<string> inputs)
    {
        if (report is null) return;
        string[] taken = [.. inputs, .. to is null ? Array.Empty<string>() : [to, to + ExportManifest.Suffix]];
        if (taken.FirstOrDefault(i => ExportFiles.IsSame(i, report)) is { } same)
            throw StopException.Usage(new Trouble("the report would replace another file of this command", same, "another file", "--report", "the order of the words was mixed up; recordings are only ever read"));
    }
}
