using Microsoft.AspNetCore.Builder;
using Stillwatch.App.Workbench;
using Stillwatch.Storage;

namespace Stillwatch.Workbench.Tests.Browsing;

/// <summary>A whole workbench of its own: a real store in a folder of its own, really listening, gone afterwards.</summary>
internal sealed class RunningWorkbench : IAsyncDisposable
{
    private readonly WebApplication app;

    private RunningWorkbench(WebApplication app, IWorkbenchStore store, string folder)
    {
        this.app = app;
        Store = store;
        Folder = folder;
    }

    public IWorkbenchStore Store { get; }

    public string Folder { get; }

    public string Address => app.Urls.First();

    public static async Task<RunningWorkbench> StartAsync()
    {
        string folder = Directory.CreateTempSubdirectory("stillwatch-workbench-").FullName;
        var store = await WorkbenchStore.OpenAsync(new StorePlace.SqliteFile(Path.Combine(folder, "stillwatch.db")), TimeProvider.System, CancellationToken.None);
        var app = WorkbenchHost.Build(new WorkbenchOptions(store, "http://127.0.0.1:0", Path.Combine(folder, "arrivals"), TimeProvider.System));
        await app.StartAsync();
        return new RunningWorkbench(app, store, folder);
    }

    public async ValueTask DisposeAsync()
    {
        await app.StopAsync();
        await app.DisposeAsync();
        await Store.DisposeAsync();
        Directory.Delete(Folder, recursive: true);
    }
}
