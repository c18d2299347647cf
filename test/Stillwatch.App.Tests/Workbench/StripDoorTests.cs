using System.Net.Sockets;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Stillwatch.App.Tests.Running;
using Stillwatch.App.Workbench;
using Stillwatch.App.Workbench.Imports;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;

namespace Stillwatch.App.Tests.Workbench;

/// <summary>The pictures over the wire: whatever is asked for, an answer that stays inside the recording.</summary>
public sealed class StripDoorTests : IAsyncLifetime
{
    private readonly Folder folder = new();
    private TestStore store = null!;
    private WebApplication app = null!;
    private string id = "";

    public async ValueTask InitializeAsync()
    {
        store = await TestStore.OpenAsync();
        folder.WriteNight("night.csv", 3600);
        await new ImportService(store.Store).StoreAsync(new ImportRequest(folder["night.csv"], new ReadingAnswers().Choices(), RecordingDescription.Nothing, null), Actor.Local, null, TestStore.Token);
        id = (await store.AllAsync())[0].Id.Text;
        app = WorkbenchHost.Build(new WorkbenchOptions(store.Store, "http://127.0.0.1:0", folder["staging"], TimeProvider.System));
        await app.StartAsync(TestStore.Token);
    }

    public async ValueTask DisposeAsync()
    {
        await app.DisposeAsync();
        await store.DisposeAsync();
        folder.Dispose();
    }

    // Each line: what is asked, the answer, and a word in it.
    [Theory]
    [InlineData("ID?from=600000&to=900000&width=900", "200", "width=\"900\"")]
    [InlineData("ID?part=overview&width=900", "200", "<svg")]
    [InlineData("ID?from=600000&to=900000&theme=dark", "200", "<svg")]
    [InlineData("ID", "200", "<svg")]
    [InlineData("ID?from=-99999999999&to=99999999999&width=99999999", "200", "width=\"8000\"")]
    [InlineData("ID?from=900000&to=600000&width=1", "200", "width=\"400\"")]
    [InlineData("ID?view=nobodys", "200", "<svg")]
    [InlineData("ID?name=%22onload%3D", "200", "<svg")]
    [InlineData("ID?width=NaN", "200", "<svg")]
    [InlineData("00000000000000000000000000000000", "404", "")]
    [InlineData("..%2F..%2Fetc", "404", "")]
    public async Task Every_question_has_an_answer(string path, string status, string word)
    {
        string answer = await GetAsync("/figures/strip/" + path.Replace("ID", id, StringComparison.Ordinal));
        Assert.StartsWith($"HTTP/1.1 {status}", answer, StringComparison.Ordinal);
        Assert.Contains(word, answer, StringComparison.Ordinal);
        Assert.DoesNotContain("onload", answer, StringComparison.Ordinal);
    }

    private async Task<string> GetAsync(string path)
    {
        var address = new Uri(app.Urls.First());
        using var client = new TcpClient();
        await client.ConnectAsync(address.Host, address.Port, TestStore.Token);
        await using var stream = client.GetStream();
        await stream.WriteAsync(Encoding.ASCII.GetBytes($"GET {path} HTTP/1.1\r\nHost: {address.Authority}\r\nConnection: close\r\n\r\n"), TestStore.Token);
        using var reader = new StreamReader(stream);
        return await reader.ReadToEndAsync(TestStore.Token);
    }
}
