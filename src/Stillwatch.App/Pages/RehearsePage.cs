using Stillwatch.Alarms;
using Stillwatch.App.Jobs;
using Stillwatch.Rehearsal;
using Stillwatch.Rehearsal.Scenarios;
using Stillwatch.Time;

namespace Stillwatch.App.Pages;

/// <summary>"What would a monitor show of a patient whose truth is known?"</summary>
internal static class RehearsePage
{
    public static void List(Page page)
    {
        page.Question("Which invented patients are there?");
        foreach (var scenario in RehearsalScenarios.All)
        {
            page.Heading(scenario.Name);
            page.Text($"{scenario.Title}. {Say.Length(Duration.FromSeconds(scenario.DurationSeconds))}, {scenario.Preset.Name}, on {scenario.Oxygen}.");
            page.Note(scenario.Story);
        }

        page.Blank();
        page.Note("To write one: stillwatch rehearse NAME --to FILE --truth FILE. " + RehearsalScenario.Caution);
        page.Caution();
    }

    public static void Write(Page page, RehearseModel model, string? report)
    {
        var (run, scenario) = (model.Run, model.Run.Scenario);
        page.Question("What would a monitor show of a patient whose truth is known?");
        page.Subject($"INVENTED · {scenario.Name} · seed {run.Seed} · {Say.Length(Duration.FromSeconds(run.Seconds))} · {scenario.Preset.Describes}, on {scenario.Oxygen}");
        page.Answer($"{scenario.Title}. {scenario.Story}");
        page.Heading("What staff may learn from it");
        foreach (string point in scenario.LearningPoints) page.Bullet(point);
        if (run.Seconds < scenario.DurationSeconds) page.Note($"Only the first {Say.Length(Duration.FromSeconds(run.Seconds))} of {Say.Length(Duration.FromSeconds(scenario.DurationSeconds))} were written: not all of this may be in them.");
        Truth(page, model);
        Signals(page, model);
        page.Heading("What was written");
        File(page, model.Recording, model.Request.WithLight ? "numbers once a second and light 125 times a second" : "numbers once a second; --light adds the sensor's light");
        if (model.Truth is { } truth) File(page, truth, "the truth once a second, and its episodes as notes");
        else page.Note("The truth was not written; --truth FILE does that.");
        page.Note($"To go on: stillwatch review {model.Recording.To} --category {scenario.Preset.Name}{(model.Request.WithLight ? $"; stillwatch derive {model.Recording.To}" : string.Empty)}");
        page.Report(report);
        page.Blank();
        page.Note(RehearsalScenario.Caution);
        page.Caution();
    }

    private static void Truth(Page page, RehearseModel model)
    {
        var run = model.Run;
        page.Heading("The truth");
        page.Text($"True saturation at the sensor: lowest {run.Patient.Min(p => p.SiteSaturationPercent):0.0} %, highest {run.Patient.Max(p => p.SiteSaturationPercent):0.0} %.");
        if (run.Episodes.Count == 0) return;
        var table = Page.TableOf(("What truly happened", false), ("Times", true), ("In all", true), ("First at", true));
        foreach (var kind in run.Episodes.GroupBy(e => e.Kind).OrderBy(g => g.Key))
            Page.Row(table, kind.Key.InWords(), $"{kind.Count()}", Say.Length(new Duration(kind.Sum(e => e.Span.Length.Milliseconds))), run.Start.ClockAt(kind.First().Span.Start));
        page.Show(table);
    }

    private static void Signals(Page page, RehearseModel model)
    {
        page.Heading("Signals that the category's starting settings give on the screen's numbers");
        page.Note(Say.Settings(model.Run.Scenario.Preset.ToSettings()) + ".");
        if (model.Signals.Count == 0)
        {
            page.Text("None.");
            return;
        }

        var table = Page.TableOf(("Signals of", false), ("Kind", false), ("Starts", true), ("Active for", true));
        foreach (var group in model.Signals.GroupBy(s => s.Condition).OrderBy(g => g.Key))
            Page.Row(table, Say.Condition(group.Key), group.Key.IsPhysiological() ? "physiological" : "technical", $"{group.Count()}", Say.Length(new Duration(group.Sum(s => s.Active.Milliseconds))));
        page.Show(table);
    }

    private static void File(Page page, RehearsedFile file, string what)
    {
        page.Text($"{file.To}: {file.Format}; {what}; {Say.Count(file.File.Bytes, "byte", "bytes")}; manifest {file.ManifestPath}.");
        foreach (var issue in file.Issues.Take(6)) page.Bullet(IssueList.Words(issue));
    }
}
