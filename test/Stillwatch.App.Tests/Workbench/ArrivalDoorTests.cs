using System.Net.Sockets;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Stillwatch.App.Tests.Running;
using Stillwatch.App.Workbench;
using Stillwatch.App.Workbench.Imports;

namespace Stillwatch.App.Tests.Workbench;

/// <summary>The door for files, over the wire: nobody but the page that opened a batch puts a file into it.</summary>
public sealed class ArrivalDoorTests : IAsyncLifetime
{
    private readonly Folder folder = new();
    private TestStore store = null!;
    private WebApplication app = null!;
    private Uri address = null!;

    public async ValueTask InitializeAsync()
    {
        store = await TestStore.OpenAsync();
        app = WorkbenchHost.Build(new WorkbenchOptions(store.Store, "http://127.0.0.1:0", folder["staging"], TimeProvider.System));
        await app.StartAsync(TestStore.Token);
        address = new Uri(app.Urls.First());
    }

    public async ValueTask DisposeAsync()
    {
        await app.DisposeAsync();
        await store.DisposeAsync();
        folder.Dispose();
    }

    // Each line: what is said in the request, and the answer. KEY stands for the batch's own key.
    [Theory]
    [InlineData("KEY", "Stillwatch-Arrival: 1", "204")]
    [InlineData("KEY", "Stillwatch-Arrival: 1|Sec-Fetch-Site: same-origin", "204")]
    [InlineData("KEY", "", "403")]
    [InlineData("KEY", "Stillwatch-Arrival: 1|Sec-Fetch-Site: cross-site", "403")]
    [InlineData("KEY", "Stillwatch-Arrival: 1|Origin: http://elsewhere.example", "403")]
    [InlineData("0123456789abcdef0123456789abcdef", "Stillwatch-Arrival: 1", "403")]
    public async Task Only_the_page_that_opened_a_batch_may_fill_it(string key, string headers, string expected)
    {
        var batch = app.Services.GetRequiredService<ArrivalDesk>().Open();
        string answer = await PutAsync(key.Replace("KEY", batch.Key, StringComparison.Ordinal), "night.csv", headers, address.Authority);
        Assert.StartsWith($"HTTP/1.1 {expected}", answer, StringComparison.Ordinal);
        Assert.Equal(expected == "204" ? ["night.csv"] : [], batch.Names);
    }

    [Fact]
    public void A_browser_that_still_knows_the_program_of_yesterday_is_no_error_on_the_terminal()
    {
        var loggers = app.Services.GetRequiredService<ILoggerFactory>();
        Assert.False(loggers.CreateLogger("Microsoft.AspNetCore.Antiforgery.DefaultAntiforgery").IsEnabled(LogLevel.Error));
        Assert.True(loggers.CreateLogger("Microsoft.AspNetCore.Server.Kestrel").IsEnabled(LogLevel.Error)); // what goes wrong here is still said
    }

    [Fact]
    public async Task Another_sites_name_for_this_machine_is_refused()
    {
        var batch = app.Services.GetRequiredService<ArrivalDesk>().Open();
        Assert.StartsWith("HTTP/1.1 421", await PutAsync(batch.Key, "night.csv", "Stillwatch-Arrival: 1", "elsewhere.example"), StringComparison.Ordinal);
        Assert.Empty(batch.Names);
    }

    // Browsers ask nobody before a page opens a socket to another site; they only say whose page it is. OURS stands for the address itself.
    [Theory]
    [InlineData("", "101")]
    [InlineData("Origin: http://OURS", "101")]
    [InlineData("Origin: https://OURS", "101")]
    [InlineData("Origin: http://elsewhere.example", "403")]
    [InlineData("Origin: http://OURS.elsewhere.example", "403")]
    [InlineData("Origin: null", "403")]
    public async Task A_page_of_another_site_opens_no_socket_here(string origin, string expected)
    {
        const string Socket = "Connection: Upgrade|Upgrade: websocket|Sec-WebSocket-Version: 13|Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==";
        string answer = await StatusAsync($"GET /_blazor HTTP/1.1|Host: OURS|{Socket}|{origin}".Replace("OURS", address.Authority, StringComparison.Ordinal));
        Assert.Equal($"HTTP/1.1 {expected}", answer[..12]);
    }

    [Fact]
    public async Task A_refused_name_is_answered_in_four_parts()
    {
        var batch = app.Services.GetRequiredService<ArrivalDesk>().Open();
        string answer = await PutAsync(batch.Key, "..%2Fnight.csv", "Stillwatch-Arrival: 1", address.Authority);
        Assert.StartsWith("HTTP/1.1 422", answer, StringComparison.Ordinal);
        foreach (string part in new[] { "\"found\"", "\"expected\"", "\"where\"", "\"likelyCause\"" }) Assert.Contains(part, answer, StringComparison.Ordinal);
    }

    // A socket stays open, so that no more than the first line of the answer is waited for.
    private async Task<string> StatusAsync(string request)
    {
        using var client = new TcpClient();
        await client.ConnectAsync(address.Host, address.Port, TestStore.Token);
        await using var stream = client.GetStream();
        await stream.WriteAsync(Encoding.ASCII.GetBytes(string.Join("\r\n", request.Split('|', StringSplitOptions.RemoveEmptyEntries)) + "\r\n\r\n"), TestStore.Token);
        using var reader = new StreamReader(stream);
        return await reader.ReadLineAsync(TestStore.Token) ?? "";
    }

    private async Task<string> PutAsync(string key, string name, string headers, string host)
    {
        using var client = new TcpClient();
        await client.ConnectAsync(address.Host, address.Port, TestStore.Token);
        await using var stream = client.GetStream();
        string more = string.Concat(headers.Split('|', StringSplitOptions.RemoveEmptyEntries).Select(h => h + "\r\n"));
        string request = $"PUT /arrivals/{key}?name={name} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n{more}Content-Length: 4\r\n\r\nabcd";
        await stream.WriteAsync(Encoding.ASCII.GetBytes(request), TestStore.Token);
        using var reader = new StreamReader(stream);
        return await reader.ReadToEndAsync(TestStore.Token);
    }
}
