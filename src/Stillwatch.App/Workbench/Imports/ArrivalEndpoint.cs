using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Routing;
using Stillwatch.App.Commands;

namespace Stillwatch.App.Workbench.Imports;

/// <summary>The door for files from a browser: <c>PUT /arrivals/{batch}?name=…</c>, the file as the body, streamed to the staging folder.</summary>
internal static class ArrivalEndpoint
{
    /// <summary>A page of another site cannot send this header without being asked first, and it is never allowed to.</summary>
    public const string Header = "Stillwatch-Arrival";

    public static void Map(IEndpointRouteBuilder routes) => routes.MapPut("/arrivals/{batch}", TakeInAsync);

    private static async Task<IResult> TakeInAsync(string batch, string? name, HttpContext context, ArrivalDesk desk)
    {
        var request = context.Request;
        string site = request.Headers["Sec-Fetch-Site"].ToString(), origin = request.Headers.Origin.ToString();
        bool isOurs = request.Headers.ContainsKey(Header) && site is "" or "same-origin" && (origin.Length == 0 || origin == $"{request.Scheme}://{request.Host}");
        if (!isOurs || desk.Find(batch) is not { } staged)
            return Refused(StatusCodes.Status403Forbidden, new Trouble("cannot take files in", "a request of a page that did not open this batch", "the page Recordings", "/arrivals", "the page was open for a long time: load it again"));
        if (context.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } size) size.MaxRequestBodySize = ArrivalLimits.Usual.BytesPerFile;
        var trouble = await desk.TakeInAsync(staged, name ?? "", request.Body, request.ContentLength, context.RequestAborted);
        return trouble is null ? Results.NoContent() : Refused(StatusCodes.Status422UnprocessableEntity, trouble);
    }

    private static IResult Refused(int status, Trouble trouble) => Results.Json(trouble, statusCode: status);
}
