using System.Security.Cryptography;
using System.Text;
using Stillwatch.Alarms;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.App.Workbench.Review;
using Stillwatch.App.Workbench.Evidence;
using Stillwatch.App.Workbench.Library;
using Stillwatch.Rehearsal;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;

namespace Stillwatch.App.Tests.Running;

/// <summary>A store in a folder of its own, with short nights of the invented ward as an import would have left them.</summary>
internal sealed class SmallLibrary : IAsyncDisposable
{
    public const string Unit = "Invented ward";

    private readonly Folder folder;

    private SmallLibrary(Folder folder, WorkbenchStore store)
    {
        this.folder = folder;
        Store = store;
        Library = new RecordingLibrary(store);
        Finder = new SettingsFinder(store);
        Loader = new GroupLoader(store, Library);
    }

    public static readonly DateTimeOffset Now = new(2026, 3, 10, 8, 0, 0, TimeSpan.Zero);

    public TimeProvider Clock { get; } = new FixedClock(Now);

    public WorkbenchStore Store { get; }

    public RecordingLibrary Library { get; }

    public SettingsFinder Finder { get; }

    public GroupLoader Loader { get; }

    /// <summary>What a preset's settings are with the short delay that the invented ward has.</summary>
    public static NamedSettings InForce(string category, int delaySeconds = 5)
    {
        var settings = (CategoryPresets.TryParse(category, out var preset) ? preset! : CategoryPresets.Adult).ToSettings();
        return new NamedSettings("In force", category, settings with { SpO2Low = settings.SpO2Low! with { Delay = Duration.FromSeconds(delaySeconds) } });
    }

    /// <param name="patients">How many of the invented ward's patients, two nights each.</param>
    /// <param name="describe">What is said of a night, from what an import would have said.</param>
    /// <param name="nightSeconds">Length of a night.</param>
    public static async Task<SmallLibrary> OfAsync(int patients, Func<RecordingDescription, int, RecordingDescription>? describe = null, int nightSeconds = 3600)
    {
        var folder = new Folder();
        var library = new SmallLibrary(folder, await WorkbenchStore.OpenAsync(new StorePlace.SqliteFile(folder["library.db"]), new FixedClock(Now)));
        int number = 0;
        foreach (var patient in DemoWard.Compose(nightSeconds: nightSeconds).Patients.Take(patients))
        {
            foreach (var night in patient.Nights)
            {
                var said = new RecordingDescription
                {
                    Patient = patient.Key,
                    Category = patient.Profile.CategoryName,
                    Unit = Unit,
                    Oxygen = patient.Profile.Oxygen,
                    SourceAveragingSeconds = patient.Profile.SourceAveragingSeconds,
                    SettingsInForceJson = SettingsForm.JsonOf(InForce(patient.Profile.CategoryName)),
                };
                await library.AddAsync(night.Recording, night.Recording.Name + ".csv", describe?.Invoke(said, number) ?? said);
                number++;
            }
        }

        return library;
    }

    public async Task<RecordingId> AddAsync(Signals.Recording recording, string fileName, RecordingDescription description, bool isInvented = true)
    {
        string hash = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes($"{description.Patient}, {recording.Name}")));
        var id = RecordingId.OfIdentity(hash);
        await Store.Recordings.StoreAsync(
            new NewRecording
            {
                Id = id,
                Recording = recording,
                Files = [new SourceFile(fileName, hash, 1000)],
                Format = "separated text",
                Issues = [],
                Description = description,
                IsInvented = isInvented,
            },
            Actor.Local);
        return id;
    }

    public Task<IReadOnlyList<StoredRecording>> AllAsync() => Store.Recordings.FindAsync(new RecordingFilter());

    public async Task<EvidenceAtHand> EvidenceAsync() =>
        await new EvidenceRun(Loader, Finder).RunAsync(await AllAsync(), Unit, new Silence(), CancellationToken.None);

    public async ValueTask DisposeAsync()
    {
        await Store.DisposeAsync();
        folder.Dispose();
    }

    /// <summary>Progress that nobody watches.</summary>
    internal sealed class Silence : IWorkProgress
    {
        public void Report(string what, int done, int total)
        {
        }
    }

    private sealed class FixedClock(DateTimeOffset now) : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => now;
    }
}
