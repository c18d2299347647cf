using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Tests.Inputs;
using Stillwatch.Storage.Tests.Servers;

namespace Stillwatch.Storage.Tests;

/// <summary>A backup of today, restored by a program of tomorrow, which knows one migration more: what that makes of a store it makes of the backup.</summary>
public sealed class EarlierBackupTests(SqliteStores sqlite, PostgresStores postgres) : IClassFixture<SqliteStores>, IClassFixture<PostgresStores>, IDisposable
{
    // A column that may not be empty and is worked out from another one, and a table.
    private const string Migration = """
        ALTER TABLE recordings ADD COLUMN name_length INTEGER NOT NULL DEFAULT -1;
        UPDATE recordings SET name_length = LENGTH(name);
        CREATE TABLE later (number INTEGER PRIMARY KEY, what TEXT NOT NULL);
        """;

    private readonly string folder = Directory.CreateTempSubdirectory("stillwatch-earlier-").FullName;

    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Theory]
    [InlineData("sqlite", "sqlite")]
    [InlineData("sqlite", "postgres")]
    [InlineData("postgres", "sqlite")]
    [InlineData("postgres", "postgres")]
    public async Task It_becomes_what_its_store_would_have_become(string from, string to)
    {
        var night = Invented.Night();
        string file = Path.Combine(folder, "earlier.zip");
        await using (var source = await Of(from).NewAsync())
        {
            await source.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
            await source.Settings.AddAsync(SettingsHistoryTests.Entry("first"), Invented.Nurse, Ended);
            await source.BackupAsync(file, Actor.Local, Ended);
        }

        var place = Of(to).NewPlace();
        Assert.Equal(1, (await WorkbenchStore.RestoreAsync(Of(to).Later(place, Migration), file, Actor.Local, Of(to).Clock, Ended)).Recordings);
        Assert.Equal((long)night.Recording.Name.Length, Convert.ToInt64(await Of(to).AskAsync(place, "SELECT name_length FROM recordings")));
        Assert.Equal(0L, await Of(to).AskAsync(place, "SELECT COUNT(*) FROM later"));
        Assert.Equal(2L, await Of(to).AskAsync(place, "SELECT COUNT(*) FROM store_version"));
        await using var target = await WorkbenchStore.OpenAsync(Of(to).Later(place, Migration), Of(to).Clock, mayMake: false, Ended);
        SameRecording.Assert(night.Recording, await target.Recordings.OpenAsync(night.Id, cancellation: Ended));
        Assert.Equal(SettingsHistoryTests.Entry("first"), (await target.Settings.HistoryAsync(Ended)).Single().Content);
        Assert.True((await target.Audit.VerifyAsync(Ended)).IsWhole);
    }

    [Theory]
    [InlineData("sqlite")]
    [InlineData("postgres")]
    public async Task A_store_that_the_later_program_made_already_is_not_taken_back_for_it(string kind)
    {
        string file = Path.Combine(folder, "earlier.zip");
        await using (var source = await Of(kind).NewAsync()) await source.BackupAsync(file, Actor.Local, Ended);
        var place = Of(kind).NewPlace();
        await using var made = await WorkbenchStore.OpenAsync(Of(kind).Later(place, Migration), Of(kind).Clock, mayMake: true, Ended);
        var e = await Assert.ThrowsAsync<StoreException>(() => WorkbenchStore.RestoreAsync(Of(kind).Later(place, Migration), file, Actor.Local, Of(kind).Clock, Ended));
        Assert.Contains("a place where no store has been", e.Expected, StringComparison.Ordinal);
        Assert.Empty(await made.Audit.LatestAsync(1, Ended));
    }

    [Fact]
    public async Task A_migration_that_fails_on_what_was_restored_leaves_nothing()
    {
        string file = Path.Combine(folder, "earlier.zip");
        await using (var source = await sqlite.NewAsync())
        {
            await source.Recordings.StoreAsync(Invented.Night(), Invented.Nurse, cancellation: Ended);
            await source.BackupAsync(file, Actor.Local, Ended);
        }

        var place = sqlite.NewPlace();
        await Assert.ThrowsAsync<StoreException>(() => WorkbenchStore.RestoreAsync(sqlite.Later(place, Migration + "UPDATE recordings SET name_length = NULL;"), file, Actor.Local, sqlite.Clock, Ended));
        Assert.Equal(0L, await sqlite.AskAsync(place, "SELECT COUNT(*) FROM sqlite_schema"));
        Assert.Equal(1, (await sqlite.RestoreAsync(place, file)).Recordings);
    }

    private Stores Of(string kind) => kind == "sqlite" ? sqlite : postgres;
}
