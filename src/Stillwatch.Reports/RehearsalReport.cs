using Stillwatch.Rehearsal;
using Stillwatch.Rehearsal.Scenarios;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Page;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;

namespace Stillwatch.Reports;

/// <summary>Writes the page by which a rehearsal is taught: the lesson first, then the truth beside the screen.</summary>
public static class RehearsalReport
{
    private const int RowsAtMost = 200;

    /// <summary>The same model gives the same page, byte for byte. The writer stays open.</summary>
    public static void Write(RehearsalReportModel model, TextWriter writer)
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentNullException.ThrowIfNull(writer);
        var (run, scenario) = (model.Run, model.Run.Scenario);
        PageFrame.Write(writer, $"Rehearsal: {scenario.Title}", isInvented: true, model.Provenance.Software, Glossary.OfRehearsal, html =>
        {
            using (html.Element("header"))
            {
                html.Leaf("h1", $"Rehearsal: {scenario.Title}");
                html.Leaf("p", $"{scenario.Preset.Describes}, on {scenario.Oxygen}; {Words.Span(Duration.FromSeconds(run.Seconds))}; scenario {scenario.Name}, seed {run.Seed}", "about");
                html.Leaf("p", RehearsalScenario.Caution, "about assumed");
                html.Leaf("p", Page.Cautions.Short, "about");
            }

            using (html.Element("section", "answer", "answer"))
            {
                html.Leaf("h2", "What happens?");
                html.Leaf("p", scenario.Story);
                html.Leaf("h2", "What may staff learn from it?");
                html.List(scenario.LearningPoints);
                if (run.Seconds < scenario.DurationSeconds)
                    html.Leaf("p", $"Only the first {Words.Span(Duration.FromSeconds(run.Seconds))} of {Words.Span(Duration.FromSeconds(scenario.DurationSeconds))} are here: not all of this may be in them.");
            }

            html.Leaf("h2", "The truth beside the screen", id: "figures");
            html.Figure("Truth, screen, and what truly happened",
                $"The thick line is the truth, which no monitor knows; the thin one is what the invented monitor shows, averaged over {Words.Span(Duration.FromSeconds(scenario.AveragingSeconds))}. Hatched: the screen shows no number. Date and clock are invented too.",
                Reports.Figures.Rehearsal(run, model.Signals), () => Tables(html, model), "Episodes, signals and minutes as tables");
            html.Leaf("h2", "How this was made", id: "method");
            html.List(
            [
                "The patient is a simple model of lungs, blood and tissue with its numbers beside their sources in the program; the monitor is invented: it averages, holds, and errs in movement, stray light and weak pulses by rules of common practice, no source.",
                $"Signals: the starting settings of the category ({scenario.Preset.Describes}; their sources stand with them) replayed on the screen’s numbers, if nobody touched the alarms: {string.Join("; ", SettingsWords.Lines(scenario.Preset.ToSettings()))}.",
                "A low or high true saturation is counted by the same starting limits, for 10 s or more, at the site of the sensor.",
            ]);
            MethodPart.FilesAndSoftware(html, model.Provenance);
        }, [RehearsalScenario.Caution, .. Page.Cautions.Full.Take(2)]);
    }

    private static void Tables(HtmlText html, RehearsalReportModel model)
    {
        var run = model.Run;
        var clock = new Clock(run.Start);
        html.Table($"What truly happened{First(run.Episodes.Count)}", ["From", "What", "For"],
            run.Episodes.Take(RowsAtMost).Select(e => (IReadOnlyList<string>)[clock.At(e.Span.Start), e.Kind.InWords(), Words.Span(e.Span.Length)]), 2);
        html.Table($"Signals of the starting settings{First(model.Signals.Count)}", ["Start", "About", "Priority", "Active for"],
            model.Signals.OrderBy(s => s.Start).Take(RowsAtMost).Select(s => (IReadOnlyList<string>)[clock.At(s.Start), Words.Of(s.Condition), s.HighestPriority.ToString().ToLowerInvariant(), Words.Span(s.Active)]), 3);
        int step = 60 * (1 + run.Seconds / (60 * RowsAtMost));
        html.Table($"The truth, lowest and highest in each {Words.Span(Duration.FromSeconds(step))}", ["From", "True SpO2, lowest", "True SpO2, highest", "True pulse rate, mean", "Carbon dioxide, highest"],
            Enumerable.Range(0, (run.Seconds + step - 1) / step).Select(i =>
            {
                var part = run.Patient.Skip(i * step).Take(step).ToList();
                return (IReadOnlyList<string>)
                [
                    clock.At(new SampleTime(i * step * 1000L)), Words.Number(part.Min(p => p.SiteSaturationPercent), 1), Words.Number(part.Max(p => p.SiteSaturationPercent), 1),
                    Words.Number(part.Average(p => p.PulseRatePerMinute), 0), Words.Number(part.Max(p => p.ArterialCarbonDioxideTorr), 0),
                ];
            }));
    }

    private static string First(int count) => count > RowsAtMost ? $"; the first {RowsAtMost} of {Words.Number(count, 0)}" : "";
}
