using Stillwatch.App.Jobs;

namespace Stillwatch.App.Pages;

/// <summary>"What was written to hand over?"</summary>
internal static class ReportPage
{
    public static void Write(Page page, HandoverModel model, WrittenPage written)
    {
        page.Question("What was written to hand over?");
        string what = written.MediaType == "image/png" ? "the main figure of the page" : "the page";
        page.Answer($"{written.Path}: {what} of a {model.Kind}, “{model.Document.Title}”; {Say.Count(written.Bytes, "byte", "bytes")}.");
        if (model.RefusedBecause.Count > 0)
        {
            page.Heading("The evidence does not support a change; the page says so");
            foreach (string reason in model.RefusedBecause) page.Bullet(reason);
        }

        page.Note($"SHA-256 {written.Sha256}");
        page.Caution();
    }
}
