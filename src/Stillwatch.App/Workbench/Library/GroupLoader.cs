using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.App.Workbench.Library;
using Stillwatch.Conditioning;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Tuning.Map;

namespace Stillwatch.App.Workbench.Library;

/// <summary>Stored recordings made ready for the jobs, with the marks that stand and the names by which results are led back to them.</summary>
/// <param name="Loaded">As the jobs take them; of two with one name, the second has its identity behind it.</param>
/// <param name="Marks">Review marks that stand, by those names.</param>
/// <param name="ByName">Which recording a name means.</param>
internal sealed record ReadyLibrary(LoadedSet Loaded, MarksFile Marks, IReadOnlyDictionary<string, StoredRecording> ByName)
{
    /// <summary>The side files of a job over these recordings: the marks, and settings where they are known.</summary>
    public SideFiles Side(IReadOnlyList<NamedSettings> present) => SideFiles.None with
    {
        Present = present.Count > 0 ? new SettingsFile("the settings in force", present) { IsFile = false } : null,
        Marks = Marks,
        Log = LogChoice.Aside,
    };
}

/// <summary>Loads stored recordings for pages that look at many of them.</summary>
internal sealed class GroupLoader(IWorkbenchStore store, RecordingLibrary library)
{
    /// <summary>The map and the conditioning of every page that looks at settings: no averaging of ours, standard validity, values as displayed.</summary>
    public static readonly MapRequest Request = new(LimitSide.Low, MapGrid.SpO2Default, 0, Backstop: null, ConditioningSettings.Default);

    /// <exception cref="StopException">Real and invented recordings are among them together.</exception>
    /// <exception cref="StoreException">A recording is gone, or damaged.</exception>
    public async Task<ReadyLibrary> LoadAsync(IReadOnlyList<StoredRecording> stored, IWorkProgress progress, CancellationToken cancellation)
    {
        if (LibraryChoice.HasBothKinds(stored))
        {
            throw StopException.Usage(new Trouble(
                "real and invented recordings are never counted together",
                $"{stored.Count(r => !r.IsInvented)} real and {stored.Count(r => r.IsInvented)} invented", "recordings of one kind", "the chosen recordings", "the demo ward lies in the same library as recordings of patients"));
        }

        var loaded = new List<LoadedRecording>(stored.Count);
        var marks = new List<(string, Tuning.MustCatch.ReviewMark)>();
        var blind = new List<(string, Time.TimeSlice)>();
        var byName = new Dictionary<string, StoredRecording>();
        foreach (var one in stored)
        {
            cancellation.ThrowIfCancellationRequested();
            progress.Report("opening recordings", loaded.Count, stored.Count);
            var recording = await library.LoadAsync(one, cancellation);
            // Results name recordings by their file, and two patients may have one of the same name.
            string name = byName.ContainsKey(recording.File.Name) ? $"{recording.File.Name} ({one.Id.Text[..8]})" : recording.File.Name;
            byName.Add(name, one);
            loaded.Add(recording with { File = recording.File with { Name = name } });
            marks.AddRange((await store.Marks.OfAsync(one.Id, cancellation)).Where(m => m.Stands).Select(m => (name, m.Mark)));
            blind.AddRange((await store.Marks.BlindLooksAsync(one.Id, cancellation)).Select(b => (name, b.Span)));
        }

        return new ReadyLibrary(new LoadedSet(loaded, [], [], []), new MarksFile("the review marks of the library", marks, blind) { IsFile = false }, byName);
    }
}
