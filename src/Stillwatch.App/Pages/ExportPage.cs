using Stillwatch.App.Jobs;
using Stillwatch.Formats.Exports;
using Stillwatch.Signals;

namespace Stillwatch.App.Pages;

/// <summary>"What was written?"</summary>
internal static class ExportPage
{
    private const int IssuesShown = 20;

    public static void Write(Page page, ExportModel model)
    {
        page.Question("What was written, and what is in it?");
        page.Answer(Answer(model));
        page.Text($"Manifest: {model.Request.ManifestPath}");
        Annotations(page, model);
        NotHeld(page, model);
        if (model.DeIdentified is { } done) DeIdentification(page, model, done);
        if (model.DeIdentified is null && model.Loaded.Issues.Count > 0) IssueList.Write(page, model.Loaded.Issues, most: 6);
        page.Caution();
    }

    private static string Answer(ExportModel model)
    {
        string invented = model.Loaded.IsInvented ? " The data are invented." : string.Empty;
        return $"{model.Request.To}: {model.Format}, {Say.Count(model.Written.Channels.Count, "channel", "channels")}, "
            + $"{Say.Count(model.Written.Annotations.Count, "annotation", "annotations")}, start {model.Written.Start}; {Say.Count(model.Output!.Bytes, "byte", "bytes")}.{invented}";
    }

    private static void Annotations(Page page, ExportModel model)
    {
        page.Heading("Annotations");
        var table = Page.TableOf(("Whose", false), ("Number", true));
        Page.Row(table, "the source's own", Number(AnnotationOrigin.Source));
        Page.Row(table, "events found", Number(AnnotationOrigin.Event));
        Page.Row(table, "signals of replayed settings", Number(AnnotationOrigin.ReplayedSignal));
        Page.Row(table, "review marks", Number(AnnotationOrigin.ReviewMark));
        Page.Row(table, "notes on derived numbers", Number(AnnotationOrigin.Derived));
        page.Show(table);
        if (model.Findings.NoEventsBecause is { } why) page.Text($"Events: {why}.");
        if (model.Findings.Settings is { } settings) page.Note($"Signals under \"{settings.Name}\": {Say.Settings(settings.Settings)}.");
        if (model.Findings.Definition is { } definition) page.Note($"Must-catch events: {Say.Definition(definition)}. {model.Loaded.Category.Words}.");
        if (model.Findings.HasDesaturationEvents) page.Note(Oxygenation.DesaturationDefinition.Words);

        string Number(AnnotationOrigin origin) => $"{model.Written.Annotations.Count(a => a.Origin == origin):#,0}";
    }

    private static void NotHeld(Page page, ExportModel model)
    {
        page.Heading(model.Issues.Count == 0 ? "The format holds everything: the file reads back to the same recording" : "What the format rounds, or keeps elsewhere");
        foreach (var issue in model.Issues.Take(IssuesShown)) page.Bullet(IssueList.Words(issue));
        if (model.Issues.Count > IssuesShown) page.Note($"  {model.Issues.Count - IssuesShown} more: see the manifest.");
    }

    private static void DeIdentification(Page page, ExportModel model, DeIdentified done)
    {
        page.Heading($"De-identified, as patient {done.Pseudonym}");
        foreach (string what in done.Done) page.Bullet(what);
        if (model.Request.Patient is null && !model.Loaded.IsInManifest)
            page.Bullet("No ward.json says whose the recording is: the file's name stood for the patient, so that another recording of the same patient gets another pseudonym and another shift, unless --patient names the patient");
        if (model.Loaded.Issues.Count > 0)
            page.Bullet($"{Say.Count(model.Loaded.Issues.Count, "thing", "things")} met in reading not shown, for they quote the original; stillwatch inspect of the original shows them");
        page.Heading("What remains");
        foreach (string what in DeIdentified.Remains) page.Bullet(what);
        page.Heading(model.Secret!.IsNew ? "The secret was made" : "The secret");
        page.Text(model.Secret.Path);
        page.Text("Keep it, and keep it from others: who loses it cannot link further exports to this one, who has it can undo the shift and test pseudonyms.");
        if (model.Secret.IsOpenToOthers) page.Text("IN DOUBT: other accounts of this machine may read it. Take their permission away.");
    }
}
