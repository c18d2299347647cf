using Stillwatch.App.Commands;
using Stillwatch.App.Jobs;
using Stillwatch.Reports;
using Stillwatch.Reports.Model;
using Stillwatch.Storage;
using Stillwatch.Storage.Reports;

namespace Stillwatch.App.Workbench.ReportList;

/// <summary>Writes pages that are handed over and keeps them as they were handed over.</summary>
internal sealed class ReportKeeper(IWorkbenchStore store, TimeProvider clock)
{
    public const string Pdf = "application/pdf";
    public const string Html = "text/html";
    public const string Png = "image/png";

    /// <summary>A page as PDF, kept.</summary>
    /// <exception cref="StoreException">It cannot be kept.</exception>
    public async Task<StoredReport> KeepPdfAsync(string kind, HandoverDocument page, CancellationToken cancellation = default)
    {
        using var bytes = new MemoryStream();
        page.WritePdf(bytes, clock.GetLocalNow());
        return await store.Reports.AddAsync(new NewReport(kind, page.Title, Pdf, bytes.ToArray()), Actor.Local, cancellation);
    }

    /// <summary>A page as HTML, kept.</summary>
    /// <exception cref="StoreException">It cannot be kept.</exception>
    public Task<StoredReport> KeepHtmlAsync(string kind, HandoverDocument page, CancellationToken cancellation = default) => KeepHtmlAsync(kind, page.Title, page.WriteHtml, cancellation);

    /// <inheritdoc cref="KeepHtmlAsync(string, HandoverDocument, CancellationToken)"/>
    public async Task<StoredReport> KeepHtmlAsync(string kind, string title, Action<TextWriter> write, CancellationToken cancellation = default)
    {
        using var text = new StringWriter { NewLine = "\n" };
        write(text);
        return await store.Reports.AddAsync(new NewReport(kind, title, Html, System.Text.Encoding.UTF8.GetBytes(text.ToString())), Actor.Local, cancellation);
    }

    /// <summary>A picture as PNG, kept.</summary>
    /// <exception cref="StopException">There is nothing to draw.</exception>
    /// <exception cref="StoreException">It cannot be kept.</exception>
    public async Task<StoredReport> KeepPngAsync(string kind, string title, Picture picture, CancellationToken cancellation = default)
    {
        if (picture.IsEmpty) throw StopException.NothingComputable(new Trouble("there is no picture to make", "nothing to draw", "a recording with SpO2", title, "make the page instead: it says why"));
        return await store.Reports.AddAsync(new NewReport(kind, title, Png, picture.ToPng()), Actor.Local, cancellation);
    }

    /// <summary>How a kept report is called, and how its file ends.</summary>
    public static (string Form, string Ending) FormOf(string mediaType) => mediaType switch
    {
        Pdf => ("PDF", ".pdf"),
        Html => ("HTML", ".html"),
        Png => ("PNG", ".png"),
        _ => (mediaType, ".bin"),
    };

    /// <summary>Software, files and their hashes, and when the page was made.</summary>
    public Provenance Origin(IEnumerable<LoadedRecording> recordings, params string[] notes) => new()
    {
        Software = ExportFiles.Software,
        Inputs = [.. recordings.SelectMany(r => r.File.Parts.Prepend(r.File)).Select(f => new InputFile(f.Name, f.Sha256, f.Bytes))],
        MadeAt = $"{clock.GetLocalNow():yyyy-MM-dd HH:mm zzz}",
        Notes = notes,
    };
}
