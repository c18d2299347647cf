using System.Net;
using Microsoft.AspNetCore.Http;

namespace Stillwatch.App.Workbench;

/// <summary>
/// What every answer of the workbench says to the browser, and whom it answers at all. A page of another site may point a name of its own
/// at this machine; such a request bears that name and is refused. It may open a socket to this machine, about which browsers ask nobody; such
/// a request says whose page it is and is refused.
/// </summary>
internal sealed class LocalDoor(RequestDelegate next)
{
    private const string Policy =
        "default-src 'self'; img-src 'self' data: blob:; style-src 'self' 'unsafe-inline'; script-src 'self'; connect-src 'self'; object-src 'none'; base-uri 'self'; form-action 'self'; frame-ancestors 'none'";

    public Task InvokeAsync(HttpContext context)
    {
        string host = context.Request.Host.Host;
        bool isLoopback = host is "localhost" || (IPAddress.TryParse(host.Trim('[', ']'), out var address) && IPAddress.IsLoopback(address));
        bool cameByLoopback = context.Connection.LocalIpAddress is null || IPAddress.IsLoopback(context.Connection.LocalIpAddress);
        if (cameByLoopback && !isLoopback)
        {
            context.Response.StatusCode = StatusCodes.Status421MisdirectedRequest;
            return context.Response.WriteAsync($"Found the host name '{host}', expected localhost: another site's page may have led here.");
        }

        string origin = context.Request.Headers.Origin.ToString();
        if (context.Request.Headers.Upgrade.Count > 0 && origin.Length > 0 && !IsOurs(origin, context.Request.Host))
        {
            context.Response.StatusCode = StatusCodes.Status403Forbidden;
            return context.Response.WriteAsync("Found a socket asked for by a page of another site, expected a page of this workbench.");
        }

        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = Policy;
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        return next(context);
    }

    // By host and port alone: a guard in front may speak https.
    private static bool IsOurs(string origin, HostString host) => Uri.TryCreate(origin, UriKind.Absolute, out var page) && page.Authority == host.Value;
}
