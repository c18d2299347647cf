using Stillwatch.App.Jobs;

namespace Stillwatch.App.Pages;

/// <summary>The whole job on one page: each question, its answer and the heart of its evidence, and the command that gives the rest.</summary>
internal static class DemoPage
{
    public static void Write(Page page, DemoModel model)
    {
        page.Question("The whole job on an invented ward");
        page.Text($"The data are invented (seed {model.Seed}): they show no real patient and are no evidence about any.");
        string night = model.Reviewed.Loaded.File.Path;
        string side = $"--present {model.Files.Present} --must-catch {model.Files.MustCatch}";

        page.Heading("1. What is in a file?");
        page.Text(InspectPage.Answer(model.Inspected.Recordings[0]));
        Command(page, $"inspect {night}");

        page.Heading("2. What happened in that night?");
        page.Text(ReviewPage.Answer(model.Reviewed));
        ReviewPage.Strip(page, model.Reviewed);
        if (model.Reviewed.Fidelity?.Result.Physiological is { } fidelity) page.Text($"Beside the log of its invented monitor, physiological signals: {Replay.Fidelity.FidelityWords.Sentences(fidelity)}");
        Command(page, $"review {night} --settings {model.Files.Present}");

        page.Heading("3. What is the ward's alarm load, and who causes it?");
        page.Text(WardPage.Answer(model.Ward));
        WardPage.Contributors(page, model.Ward);
        Command(page, $"ward {model.Files.Folder} {side}");

        page.Heading("4. Which settings would have kept every must-catch event, with the fewest signals?");
        page.Text(TunePage.Answer(model.Tuned));
        foreach (var group in model.Tuned.Groups)
            page.Bullet($"{Say.Group(group.Key, group.Category.IsAssumed)}; {Say.Count(group.Patients, "patient", "patients")}. {TunePage.AnswerFor(group.Search.Proposal, reasonsFollow: false)}");
        var shown = model.Tuned.Groups.FirstOrDefault(g => !g.Search.Proposal.IsRefused) ?? model.Tuned.Groups[0];
        TunePage.Evidence(page, shown, $"The evidence: {Say.Group(shown.Key, shown.Category.IsAssumed)}");
        TunePage.Map(page, model.Tuned);
        Command(page, $"tune {model.Files.Folder} {side}");

        page.Heading("5. The report, with every figure");
        page.Answer(model.Files.Report, blankBefore: false);
        page.Text("Open it in a browser. All data in it are invented.");
        page.Blank();
        page.Note("The commands above stand for an installed program. In a checkout, write: dotnet run -c Release --project src/Stillwatch.App -- in place of: stillwatch");
        page.Caution();
    }

    private static void Command(Page page, string arguments) => page.Note($"All of it: stillwatch {arguments}");
}
