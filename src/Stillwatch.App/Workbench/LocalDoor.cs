using System.Net;
using Microsoft.AspNetCore.Http;

namespace Stillwatch.App.Workbench;

/// <summary>
/// What every answer of the workbench says to the browser, and whom it answers at all. A page of another site may point a name of its own
/// at this machine; such a request bears that name and is refused.
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

        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = Policy;
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        return next(context);
    }
}
