using System.CommandLine;
using System.Globalization;
using Stillwatch.App.Jobs;
using Stillwatch.App.Json;
using Stillwatch.App.Pages;
using Stillwatch.App.Terminal;
using Stillwatch.Formats.Exports;
using Stillwatch.Rehearsal.Scenarios;

namespace Stillwatch.App.Commands;

/// <summary><c>rehearse NAME --to FILE</c>, <c>rehearse --list</c></summary>
internal static class RehearseCommand
{
    private const ulong StandardSeed = 1;
    private const decimal MostMinutes = 1440;

    private static readonly Lesson Lesson = new(
        "What would a monitor show of a patient whose truth is known?",
        "Writes an invented patient as a recording: the numbers of an invented monitor, with --light also the red and infrared light of its sensor, and with --truth what truly "
        + "happened, in a second file. Every command reads these files as any other. The page says what staff may learn from the scenario, and sets the truth beside the screen. "
        + "The same name and seed give the same files, byte for byte.",
        [("stillwatch rehearse --list", "all scenarios, a line each"),
         ("stillwatch rehearse hypoxaemia-behind-movement --to struggle.csv --truth truth.csv --report struggle.html --replace", "hypoxaemia that movement hides, with its truth and a page for teaching"),
         ("stillwatch rehearse cold-hand --minutes 10 --light --to cold.edf --replace", "ten minutes with light, for derive")],
        [("true SpO2 at the site", "saturation of the arterial blood under the sensor; the screen is later and averaged"),
         ("signals", "what the category's starting settings would have given on the screen's numbers (replay), not what any monitor gave"),
         ("light", "red and infrared, 125 samples a second, beside the numbers at one a second; both fit every format that is written")],
        [RehearsalScenario.Caution,
         "All data are invented. Files say so in their first note and in their manifest; keep both with them."]);

    public static Command Create(Screen screen)
    {
        var name = new Argument<string?>("name") { HelpName = "NAME", Arity = ArgumentArity.ZeroOrOne };
        var to = new Option<string?>("--to") { HelpName = "FILE", Description = "Where the invented recording goes; its ending names the format: " + ExportFiles.Endings };
        var light = new Option<bool>("--light") { Description = "Also the red and infrared light of the sensor" };
        var truth = new Option<string?>("--truth") { HelpName = "FILE", Description = "Where the truth goes, in a format of its own by its ending" };
        var seed = SharedOptions.Seed(StandardSeed);
        var minutes = new Option<decimal?>("--minutes")
        {
            HelpName = "M",
            Description = $"The first M minutes of the scenario [all of it unless given; 1–{MostMinutes}]",
            CustomParser = result =>
            {
                string text = result.Tokens.Count > 0 ? result.Tokens[^1].Value : string.Empty;
                if (decimal.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out decimal value) && value is >= 1 and <= MostMinutes) return value;
                result.AddError($"--minutes: found '{text}', expected minutes from 1 to {MostMinutes}");
                return null;
            },
        };
        var list = new Option<bool>("--list") { Description = "Names, titles and a line on each scenario; nothing is written" };
        var replace = SharedOptions.Replace();
        var report = SharedOptions.Report();
        var json = SharedOptions.Json();
        var command = new Command("rehearse", "An invented patient with a known truth, as a recording to try everything on") { name, to, light, truth, seed, minutes, list, replace, report, json };
        command.Validators.Add(result =>
        {
            bool lists = result.GetValue(list);
            foreach (var token in result.GetResult(name)?.Tokens.Where(t => t.Value.StartsWith('-')) ?? [])
                result.AddError($"found '{token.Value}', which is no option of this command");
            if (lists && (result.GetValue(name) is not null || result.GetValue(to) is not null)) result.AddError("found --list with a scenario or --to, expected it alone: it lists, and writes nothing");
            if (!lists && result.GetValue(name) is null) result.AddError("found no scenario, expected the name of one (stillwatch rehearse --list)");
            if (!lists && result.GetValue(name) is not null && result.GetValue(to) is null) result.AddError("found no --to, expected the file to write");
        });
        TeachingHelp.Attach(command, Lesson, screen);
        command.SetAction(parsed =>
        {
            if (parsed.GetValue(list))
            {
                if (parsed.GetValue(json)) JsonPage.Write(screen.Out, RehearseJson.List);
                else RehearsePage.List(new Page(screen));
                return (int)ExitCode.Done;
            }

            var request = new RehearseRequest(
                Scenario(parsed.GetValue(name)!), parsed.GetValue(seed), parsed.GetValue(minutes), parsed.GetValue(to)!, parsed.GetValue(light), parsed.GetValue(truth), parsed.GetValue(replace));
            string? page = parsed.GetValue(report);
            var writers = RehearseJob.CheckTargets(request, page);
            RehearseModel model;
            using (var progress = new ProgressLine(screen))
            {
                progress.Report("rehearsing", 0, 0);
                model = RehearseJob.Run(request, writers);
                if (page is not null) ReportJob.Write(page, RehearseReport.Of(model));
            }

            if (parsed.GetValue(json)) JsonPage.Write(screen.Out, writing => RehearseJson.Write(writing, model));
            else RehearsePage.Write(new Page(screen), model, page);
            return (int)ExitCode.Done;
        });
        return command;
    }

    private static RehearsalScenario Scenario(string name) => RehearsalScenarios.Find(name)
        ?? throw StopException.Usage(new Trouble($"no scenario '{name}'", $"'{name}'", "one of " + string.Join(", ", RehearsalScenarios.All.Select(s => s.Name)), "the first word after rehearse", "the name is misspelled; stillwatch rehearse --list shows what each is"));
}
