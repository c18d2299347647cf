using Stillwatch.App.Jobs;

namespace Stillwatch.App.Pages;

/// <summary>The pages of the demonstration, in the order in which the job is done.</summary>
internal static class DemoPage
{
    public static void Write(Page page, DemoModel model)
    {
        page.Answer($"An invented ward (seed {model.Seed}): the data below show no real patient and are no evidence about any.");
        page.Text($"Its files are in {model.Files.Folder}. The same pages again, one by one:");
        string folder = model.Files.Folder, night = model.Reviewed.Loaded.File.Path, present = model.Files.Present, catches = model.Files.MustCatch;
        page.Bullet($"stillwatch inspect {night}");
        page.Bullet($"stillwatch review {night} --settings {present} --must-catch {catches}");
        page.Bullet($"stillwatch ward {folder} --present {present} --must-catch {catches}");
        page.Bullet($"stillwatch tune {folder} --present {present} --must-catch {catches} --report {model.Files.Report}");
        page.Blank();
        InspectPage.Write(page, model.Inspected);
        page.Blank();
        ReviewPage.Write(page, model.Reviewed, report: null);
        page.Blank();
        WardPage.Write(page, model.Ward, report: null);
        page.Blank();
        TunePage.Write(page, model.Tuned, report: null);
        page.Blank();
        page.Answer($"The report, with every figure: {model.Files.Report}");
        page.Text("All data in it are invented.");
        page.Caution();
    }
}
