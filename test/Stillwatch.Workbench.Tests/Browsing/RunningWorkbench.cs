using Microsoft.AspNetCore.Builder;
using Stillwatch.App.Workbench;
using Stillwatch.Storage;

namespace Stillwatch.Workbench.Tests.Browsing;

/// <summary>A whole workbench of its own: a real store in a folder of its own, really listening, gone afterwards.</summary>
internal sealed class RunningWorkbench : IAsyncDisposable
{
    private WebApplication app;
    private bool isStopped;

    private RunningWorkbench(WebApplication app, IWorkbenchStore store, string folder)
    {
        this.app = app;
        Store = store;
        Folder = folder;
        Address = app.Urls.First();
    }

    public IWorkbenchStore Store { get; private set; }

    public string Folder { get; }

    /// <summary>The same after a restart.</summary>
    public string Address { get; }

    public static string NewFolder() => Directory.CreateTempSubdirectory("stillwatch-workbench-").FullName;

    /// <param name="folder">A data folder that becomes this workbench's own; null: an empty one.</param>
    /// <param name="around">Stands between the program and the store; null: nothing does.</param>
    public static async Task<RunningWorkbench> StartAsync(string? folder = null, Func<IWorkbenchStore, IWorkbenchStore>? around = null)
    {
        folder ??= NewFolder();
        var (app, store) = await UpAsync(folder, around);
        return new RunningWorkbench(app, store, folder);
    }

    /// <summary>Ends the program and closes the store; what is kept stays in the folder.</summary>
    public async Task StopAsync()
    {
        if (isStopped) return;
        isStopped = true;
        await app.StopAsync();
        await app.DisposeAsync();
        await Store.DisposeAsync();
    }

    /// <summary>As after a night with the machine switched off: another program on the same folder, at the same address.</summary>
    public async Task RestartAsync()
    {
        await StopAsync();
        (app, Store) = await UpAsync(Folder, around: null, Address);
        isStopped = false;
    }

    public async ValueTask DisposeAsync()
    {
        await StopAsync();
        Directory.Delete(Folder, recursive: true);
    }

    private static async Task<(WebApplication App, IWorkbenchStore Store)> UpAsync(string folder, Func<IWorkbenchStore, IWorkbenchStore>? around, string address = "http://127.0.0.1:0")
    {
        IWorkbenchStore store = await WorkbenchStore.OpenAsync(new StorePlace.SqliteFile(Path.Combine(folder, "stillwatch.db")), StandingClock.Instance, CancellationToken.None);
        if (around is not null) store = around(store);
        var app = WorkbenchHost.Build(new WorkbenchOptions(store, address, Path.Combine(folder, "arrivals"), StandingClock.Instance));
        await app.StartAsync();
        return (app, store);
    }
}
