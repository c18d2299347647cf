using System.Security.Cryptography;
using Stillwatch.App.Workbench.Library;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;

namespace Stillwatch.App.Workbench.Review;

/// <summary>The scenes of the pages that are open, by a key that their pictures are fetched with.</summary>
internal sealed class StripDesk(IWorkbenchStore store, RecordingLibrary library)
{
    private readonly Lock door = new();
    private readonly Dictionary<string, ReviewScene> scenes = [];

    public static string NewKey() => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(8));

    public void Show(string key, ReviewScene scene)
    {
        lock (door) scenes[key] = scene;
    }

    public void Close(string key)
    {
        lock (door) scenes.Remove(key);
    }

    /// <summary>The scene of a page, or of the recording as anybody sees it first; null: there is no such recording.</summary>
    /// <exception cref="StoreException">It cannot be read.</exception>
    public async Task<ReviewScene?> FindAsync(RecordingId id, string? key, CancellationToken cancellation)
    {
        lock (door)
        {
            if (key is not null && scenes.TryGetValue(key, out var open) && open.Stored.Id == id) return open;
        }

        if (await store.Recordings.GetAsync(id, cancellation) is not { } stored) return null;
        var loaded = await library.LoadAsync(stored, cancellation);
        return await Task.Run(() => ReviewScenes.Of(stored, loaded, []), cancellation);
    }
}
