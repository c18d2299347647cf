using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Stillwatch.Reports;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;

namespace Stillwatch.App.Workbench.Review;

/// <summary>
/// Pictures of a recording: <c>GET /figures/strip/{id}?from=&amp;to=&amp;width=&amp;theme=</c>, times in milliseconds of the recording's own line. With <c>part=overview</c> the whole
/// span with the window framed; with <c>view</c> as the page of that key shows it.
/// </summary>
internal static class StripEndpoint
{
    private const double Narrowest = 400;
    private const double Widest = 8000;

    public static void Map(IEndpointRouteBuilder routes) => routes.MapGet("/figures/strip/{id}", DrawAsync);

    private static async Task<IResult> DrawAsync(string id, long? from, long? to, double? width, string? theme, string? view, string? part, string? name, HttpContext context, StripDesk desk, IWorkbenchStore store)
    {
        if (!RecordingId.TryParse(id, out var recording)) return Results.NotFound();
        var cancellation = context.RequestAborted;
        try
        {
            if (await desk.FindAsync(recording, view, cancellation) is not { } scene) return Results.NotFound();
            var window = Within(scene.Whole, from, to);
            double wide = double.IsFinite(width ?? 1000) ? Math.Clamp(width ?? 1000, Narrowest, Widest) : 1000;
            string svgId = name is { Length: > 0 and <= 20 } && name.All(char.IsAsciiLetterOrDigit) ? name : "strip";
            var picture = new StripPicture(scene, store.Recordings);
            string svg = part == "overview" ? await picture.OverviewAsync(wide, from is null ? null : window, svgId, cancellation) : await picture.DetailAsync(window, wide, svgId, cancellation);
            if (theme == "dark") svg = Figures.InDark(svg);
            context.Response.Headers.CacheControl = "no-store";
            return Results.Text(svg, "image/svg+xml");
        }
        catch (StoreException e)
        {
            return Results.Problem(e.Message, statusCode: StatusCodes.Status503ServiceUnavailable);
        }
    }

    /// <summary>What was asked for, brought into the recording; nothing sensible asked for: all of it.</summary>
    private static TimeSlice Within(TimeSlice whole, long? from, long? to)
    {
        long first = Math.Clamp(from ?? whole.Start.Milliseconds, whole.Start.Milliseconds, whole.End.Milliseconds);
        long last = Math.Clamp(to ?? whole.End.Milliseconds, whole.Start.Milliseconds, whole.End.Milliseconds);
        return last - first < 10 ? whole : new TimeSlice(new SampleTime(first), new SampleTime(last));
    }
}
