using Stillwatch.Alarms;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.Signals;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Workbench.Library;

/// <summary>Stored recordings as the jobs take them, so that a page takes the same roads as a command.</summary>
/// <remarks>The recordings looked at last are kept in memory (judged channels only); a changed description is seen at once.</remarks>
internal sealed class RecordingLibrary(IWorkbenchStore store)
{
    private const int KeptInMemory = 64; // a night at one a second takes a quarter of a megabyte

    private readonly Lock door = new();
    private readonly Dictionary<RecordingId, Recording> kept = [];
    private readonly LinkedList<RecordingId> byUse = new();

    public Task<IReadOnlyList<StoredRecording>> FindAsync(RecordingFilter filter, CancellationToken cancellation = default) => store.Recordings.FindAsync(filter, cancellation);

    /// <summary>The judged channels of a stored recording with what is known of it.</summary>
    /// <exception cref="StoreException">It is gone, or damaged.</exception>
    public async Task<LoadedRecording> LoadAsync(StoredRecording stored, CancellationToken cancellation = default)
    {
        if (Kept(stored.Id) is not { } recording)
        {
            recording = await store.Recordings.OpenAsync(stored.Id, ChannelKinds.Judged, cancellation);
            Keep(stored.Id, recording);
        }

        var log = (await store.Recordings.AttachmentsAsync(stored.Id, cancellation)).FirstOrDefault(a => a.Role == LogChoice.Role);
        return LoadedOf(stored, recording) with { AlarmLog = log is null ? null : new AlarmLogFile(log.Name, log.Content) };
    }

    /// <summary>All of the recordings asked for, in their order.</summary>
    /// <exception cref="StoreException">One is gone, or damaged.</exception>
    public async Task<LoadedSet> LoadAllAsync(IReadOnlyList<StoredRecording> stored, CancellationToken cancellation = default)
    {
        var loaded = new List<LoadedRecording>(stored.Count);
        foreach (var one in stored) loaded.Add(await LoadAsync(one, cancellation));
        return new LoadedSet(loaded, [], [], []);
    }

    /// <summary>A stored recording with its samples as the jobs take it.</summary>
    public static LoadedRecording LoadedOf(StoredRecording stored, Recording recording)
    {
        var said = stored.Description;
        var files = stored.Files.Select(f => new InputFile(f.Name, f.Name, f.Bytes, f.Sha256)).ToList();
        var file = files[0] with { Parts = files[1..], ExportOf = stored.ExportOf };
        var averaging = said.SourceAveragingSeconds is { } seconds ? new SourceAveraging(Duration.FromSeconds(seconds)) : stored.SourceAveraging;
        var category = said.Category is { } name && CategoryPresets.TryParse(name, out var preset) ? new CategoryChoice(preset!) : CategoryChoice.AssumedAdult;
        var oxygen = said.Oxygen is { } word && WardManifest.OxygenNames.TryGetValue(word, out var status) ? status : OxygenStatus.Unknown;
        return new LoadedRecording(
            file, recording with { SourceAveraging = averaging }, stored.Issues, said.Patient ?? file.Name, category, oxygen, said.Patient is not null, stored.IsInvented, stored.Format);
    }

    private Recording? Kept(RecordingId id)
    {
        lock (door)
        {
            if (!kept.TryGetValue(id, out var recording)) return null;
            byUse.Remove(id);
            byUse.AddFirst(id);
            return recording;
        }
    }

    private void Keep(RecordingId id, Recording recording)
    {
        lock (door)
        {
            if (kept.TryAdd(id, recording)) byUse.AddFirst(id);
            while (byUse.Count > KeptInMemory)
            {
                kept.Remove(byUse.Last!.Value);
                byUse.RemoveLast();
            }
        }
    }
}
