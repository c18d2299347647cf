using Microsoft.AspNetCore.Builder;
using Stillwatch.App.Workbench;
using Stillwatch.App.Workbench.Imports;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;

namespace Stillwatch.Measure;

/// <summary>A workbench on a folder of its own, as <c>serve</c> starts it.</summary>
internal sealed class MeasuredWorkbench : IAsyncDisposable
{
    private readonly WebApplication app;
    private readonly IWorkbenchStore store;

    private MeasuredWorkbench(WebApplication app, IWorkbenchStore store, string folder)
    {
        this.app = app;
        this.store = store;
        Folder = folder;
    }

    public string Folder { get; }

    public string Address => app.Urls.First();

    public static async Task<MeasuredWorkbench> StartAsync()
    {
        string folder = Directory.CreateTempSubdirectory("stillwatch-measure-").FullName;
        var store = await WorkbenchStore.OpenAsync(new StorePlace.SqliteFile(Path.Combine(folder, "stillwatch.db")), TimeProvider.System, CancellationToken.None);
        var app = WorkbenchHost.Build(new WorkbenchOptions(store, "http://127.0.0.1:0", Path.Combine(folder, "arrivals"), TimeProvider.System));
        await app.StartAsync();
        return new MeasuredWorkbench(app, store, folder);
    }

    /// <summary>Takes a file in without the page.</summary>
    public Task StoreAsync(string path, RecordingDescription description) =>
        new ImportService(store).StoreAsync(new ImportRequest(path, new ReadingAnswers().Choices(), description, null), Actor.Local, null, CancellationToken.None);

    public async ValueTask DisposeAsync()
    {
        await app.StopAsync();
        await app.DisposeAsync();
        await store.DisposeAsync();
        Directory.Delete(Folder, recursive: true);
    }
}
