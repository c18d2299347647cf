using Stillwatch.App.Tests.Running;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;

namespace Stillwatch.App.Tests.Workbench;

/// <summary>A store in a folder of its own, gone afterwards.</summary>
internal sealed class TestStore : IAsyncDisposable
{
    private readonly Folder folder;

    private TestStore(Folder folder, IWorkbenchStore store) => (this.folder, Store) = (folder, store);

    public IWorkbenchStore Store { get; }

    public static async Task<TestStore> OpenAsync()
    {
        var folder = new Folder();
        return new TestStore(folder, await WorkbenchStore.OpenAsync(new StorePlace.SqliteFile(folder["stillwatch.db"]), TimeProvider.System, Token));
    }

    public static CancellationToken Token => TestContext.Current.CancellationToken;

    public async Task<IReadOnlyList<StoredRecording>> AllAsync() => await Store.Recordings.FindAsync(new RecordingFilter(), Token);

    public async ValueTask DisposeAsync()
    {
        await Store.DisposeAsync();
        folder.Dispose();
    }
}
