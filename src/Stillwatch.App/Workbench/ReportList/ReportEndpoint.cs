using System.Globalization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Stillwatch.Storage;

namespace Stillwatch.App.Workbench.ReportList;

/// <summary>Kept reports, byte for byte as they were handed over.</summary>
internal static class ReportEndpoint
{
    // A report is shown as paper: it may not run anything, nor reach anything.
    private const string Policy = "sandbox; default-src 'none'; style-src 'unsafe-inline'; img-src data:";

    public static string LinkTo(long number) => string.Create(CultureInfo.InvariantCulture, $"reports/{number}/content");

    public static string LinkToSave(long number) => LinkTo(number) + "?save=1";

    public static void MapReports(this WebApplication app) => app.MapGet("/reports/{number:long}/content", async (long number, string? save, IWorkbenchStore store, HttpContext context, CancellationToken cancellation) =>
    {
        var found = (await store.Reports.ListAsync(cancellation)).FirstOrDefault(r => r.Number == number);
        if (found is null || await store.Reports.ContentAsync(number, cancellation) is not { } content)
            return Results.Text($"Found no report {number}, expected one of the list of reports.", statusCode: StatusCodes.Status404NotFound);
        bool isHtml = found.MediaType == ReportKeeper.Html;
        if (isHtml) context.Response.Headers.ContentSecurityPolicy = Policy;
        return Results.File(content, isHtml ? "text/html; charset=utf-8" : found.MediaType, save is null ? null : $"stillwatch-report-{number}{ReportKeeper.FormOf(found.MediaType).Ending}");
    });
}
