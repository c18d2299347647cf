using Stillwatch.Signals;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Sql;
using Stillwatch.Storage.Tests.Inputs;
using Stillwatch.Storage.Tests.Servers;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Storage.Tests.Releases;

/// <summary>
/// A store that any release wrote opens and reads in this one, and so does a backup that it made of it. Each release leaves both in this folder, small, made once by
/// <c>STILLWATCH_WRITE_RELEASE=1 dotnet test/Stillwatch.Storage.Tests/bin/Release/net10.0/Stillwatch.Storage.Tests.dll --filter-method "*This_release_left_a_store_behind"</c>
/// and never made again.
/// </summary>
public class ReleaseTests(SqliteStores stores, PostgresStores postgres) : IClassFixture<SqliteStores>, IClassFixture<PostgresStores>
{
    private const string Source = "test/Stillwatch.Storage.Tests/Releases";

    private static readonly NewRecording Small = MakeSmall();

    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    public static TheoryData<string> Files => Left("*.db");

    public static TheoryData<string> Backups => Left("*.zip");

    [Theory]
    [MemberData(nameof(Files))]
    public async Task A_store_of_each_release_opens_and_reads(string file)
    {
        // A copy: opening may bring it up to this version, and the next run is to start from what the release wrote.
        var place = stores.NewPlace();
        File.Copy(Path.Combine(AppContext.BaseDirectory, "Releases", file), ((StorePlace.SqliteFile)place).Path);
        await ReadsAsync(place);
    }

    [Theory]
    [MemberData(nameof(Backups))]
    public async Task A_backup_of_each_release_becomes_a_store_of_this_one(string file)
    {
        foreach (Stores kind in new Stores[] { stores, postgres })
        {
            var place = kind.NewPlace();
            await kind.RestoreAsync(place, Path.Combine(AppContext.BaseDirectory, "Releases", file));
            await ReadsAsync(place);
        }
    }

    private async Task ReadsAsync(StorePlace place)
    {
        await using var store = await stores.OpenAsync(place);
        var found = await store.Recordings.FindAsync(new RecordingFilter(), Ended);
        Assert.Equal(["night 1.csv", "small"], found.Select(r => r.Name).Order(StringComparer.Ordinal));
        SameRecording.Assert(Invented.Recording("night 1.csv", 10_000), await store.Recordings.OpenAsync(RecordingId.OfIdentity("night 1.csv"), cancellation: Ended));
        SameRecording.Assert(Small.Recording, await store.Recordings.OpenAsync(Small.Id, cancellation: Ended));
        var window = await store.Recordings.WindowAsync(RecordingId.OfIdentity("night 1.csv"), 0, default, Invented.At(10_000), 40, Ended);
        Assert.Equal((87f, 97f), (window.Least.Min(), window.Greatest.Max()));
        var described = await store.Recordings.GetAsync(RecordingId.OfIdentity("night 1.csv"), Ended);
        Assert.Equal(new RecordingDescription { Patient = "P-17", Category = "adult", TargetLow = 88m, Note = "invented" }, described!.Description);
        Assert.Equal(Invented.Night("night 1.csv").Issues, described.Issues);
        var marks = await store.Marks.OfAsync(RecordingId.OfIdentity("night 1.csv"), Ended);
        Assert.Equal([(MarkVerdict.RealAndSignificant, false), (MarkVerdict.Artefact, true)], marks.Select(m => (m.Mark.Verdict, m.Stands)));
        Assert.Single(await store.Marks.BlindLooksAsync(RecordingId.OfIdentity("night 1.csv"), Ended));
        var settings = await store.Settings.HistoryAsync(Ended);
        Assert.Equal([SettingsHistoryTests.Entry("second"), SettingsHistoryTests.Entry("first")], settings.Select(s => s.Content));
        Assert.Equal(settings[1].Content.SettingsJson, settings[0].PreviousSettingsJson);
        Assert.Equal("handed over"u8.ToArray(), await store.Reports.ContentAsync((await store.Reports.ListAsync(Ended)).Single().Number, Ended));
        Assert.True((await store.Audit.VerifyAsync(Ended)).IsWhole);
        await store.Marks.AddAsync(Small.Id, new ReviewMark("anna", Invented.Span(0, 1), MarkVerdict.CannotTell), Actor.Local, Ended);
    }

    [Fact]
    public async Task This_release_left_a_store_behind()
    {
        string name = Path.Combine(Checkout(), Source, Migrator.Program);
        if (Environment.GetEnvironmentVariable("STILLWATCH_WRITE_RELEASE") == "1") await WriteAsync(name + ".db", name + ".zip");
        foreach (string left in new[] { name + ".db", name + ".zip" }) Assert.True(File.Exists(left), $"{left} is not there; the summary of {nameof(ReleaseTests)} says how it is made.");
    }

    private static TheoryData<string> Left(string pattern) => [.. Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "Releases"), pattern).Select(f => Path.GetFileName(f))];

    private async Task WriteAsync(string path, string backup)
    {
        Assert.False(File.Exists(path), $"{path} is there already; what a release wrote is not written again.");
        await using var store = await stores.OpenAsync(new StorePlace.SqliteFile(path));
        var night = Invented.Night("night 1.csv", 10_000, new RecordingDescription { Patient = "P-17", Category = "adult", TargetLow = 88m, Note = "invented" });
        await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
        await store.Recordings.StoreAsync(Small, Invented.Nurse, cancellation: Ended);
        long mark = await store.Marks.AddAsync(night.Id, new ReviewMark("anna", Invented.Span(30, 60), MarkVerdict.RealAndSignificant, "seen"), Invented.Nurse, Ended);
        await store.Marks.AddAsync(night.Id, new ReviewMark("bo", Invented.Span(90, 90), MarkVerdict.Artefact), Actor.Local, Ended);
        await store.Marks.WithdrawAsync(mark, Invented.Nurse, Ended);
        await store.Marks.AddBlindLookAsync(night.Id, "anna", Invented.Span(0, 600), Invented.Nurse, Ended);
        await store.Settings.AddAsync(SettingsHistoryTests.Entry("first"), Invented.Nurse, Ended);
        await store.Settings.AddAsync(SettingsHistoryTests.Entry("second"), Invented.Nurse, Ended);
        await store.Reports.AddAsync(new Reports.NewReport("decision", "Ward 3, adults", "text/plain", "handed over"u8.ToArray()), Invented.Nurse, Ended);
        await store.BackupAsync(backup, Actor.Local, Ended);
    }

    // Uneven times, counts with a calibration, a zoned start, an exact rate.
    private static NewRecording MakeSmall()
    {
        var builder = new TimeAxis.Builder();
        for (int i = 0; i < 200; i++) builder.Add(i * 1000 + i * i % 13);
        var uneven = new Channel("SpO2", ChannelKind.SpO2, "%", builder.Build(), ValueColumn.Of(Enumerable.Range(0, 200).Select(i => i % 9 == 0 ? (decimal?)null : 90 + i % 7 / 3m)));
        var pleth = new Channel("Pleth", ChannelKind.Pleth, "1", TimeAxis.Even(Invented.At(5), SampleRate.Of(360, 1000), 1000), CountColumn.Of(Calibration.OfGain(-200m, 12), Enumerable.Range(0, 1000).Select(i => i % 100 == 99 ? (int?)null : i * 37 % 5000)));
        var start = new RecordingStart.Zoned(new DateTimeOffset(2031, 3, 4, 22, 0, 0, TimeSpan.FromHours(1)));
        return Invented.Night("small") with { Recording = new Recording("small", start, [uneven, pleth], SourceAveraging.Unknown, [new Annotation(Invented.At(2), Duration.FromSeconds(3), "sensor moved", AnnotationOrigin.Event)]) };
    }

    private static string Checkout()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Stillwatch.slnx"))) folder = folder.Parent;
        return folder?.FullName ?? throw new InvalidOperationException("These tests run inside the checkout.");
    }
}
