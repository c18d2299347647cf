using Stillwatch.App.Commands;
using Stillwatch.App.Jobs;
using Stillwatch.App.Workbench.Library;
using Stillwatch.Reports;
using Stillwatch.Reports.Model;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Reports;

namespace Stillwatch.App.Workbench.ReportList;

/// <summary>As what a recording is handed over.</summary>
public enum ReportForm
{
    /// <summary>The one page, as PDF.</summary>
    PagePdf,

    /// <summary>The same page for a browser.</summary>
    PageHtml,

    /// <summary>Its picture alone, with what the page says of it beneath.</summary>
    PicturePng,

    /// <summary>Everything: figures and the tables behind them.</summary>
    FullHtml,
}

/// <summary>Makes reports of single recordings and keeps them.</summary>
internal sealed class RecordingReports(GroupLoader loader, ReportKeeper keeper)
{
    private const string Kind = "recording";

    /// <exception cref="StopException">Nothing can be computed from it, there is nothing to draw, or what was said to be in force is no settings file.</exception>
    /// <exception cref="StoreException">The recording is gone or damaged, or the report cannot be kept.</exception>
    public async Task<StoredReport> KeepAsync(StoredRecording stored, ReportForm form, IWorkProgress progress, CancellationToken cancellation)
    {
        var ready = await loader.LoadAsync([stored], progress, cancellation);
        var loaded = ready.Loaded.Recordings[0];
        var known = SettingsFinder.Present([stored], loaded.Category);
        var side = ready.Side(known is null ? [] : [known.Set with { Category = null }]);
        side = side with { Settings = side.Present };
        progress.Report("looking back", 0, 0);
        var review = ReviewJob.Of(loaded, GroupLoader.Request.Conditioning, side);
        var origin = keeper.Origin([loaded]);
        if (form == ReportForm.FullHtml)
        {
            var full = ReportJob.Of(review, side) with { Provenance = origin };
            return await keeper.KeepHtmlAsync(Kind, full.Title, writer => HtmlReport.Write(full, writer), cancellation);
        }

        var model = new RecordingPageModel
        {
            Title = $"{loaded.Patient}: {stored.Name}",
            Recording = ReportJob.SectionOf(review, side, proposed: null),
            Marks = ready.Marks.MarksOn(loaded.File.Name),
            IsInvented = loaded.IsInvented,
            Provenance = origin,
        };
        var page = HandoverPages.Recording(model);
        return form switch
        {
            ReportForm.PagePdf => await keeper.KeepPdfAsync(Kind, page, cancellation),
            ReportForm.PageHtml => await keeper.KeepHtmlAsync(Kind, page, cancellation),
            _ => await keeper.KeepPngAsync(Kind, page.Title, page.Worded(Pictures.Overview(model.Recording)), cancellation),
        };
    }
}
