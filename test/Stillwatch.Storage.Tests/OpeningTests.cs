using Microsoft.Data.Sqlite;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Sql;
using Stillwatch.Storage.Tests.Inputs;
using Stillwatch.Storage.Tests.Servers;

namespace Stillwatch.Storage.Tests;

public abstract class OpeningTests(Stores stores)
{
    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    [Fact]
    public async Task What_was_stored_is_there_after_closing_and_opening()
    {
        var place = stores.NewPlace();
        var night = Invented.Night();
        await using (var store = await stores.OpenAsync(place)) await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
        await using var again = await stores.OpenAsync(place);
        SameRecording.Assert(night.Recording, await again.Recordings.OpenAsync(night.Id, cancellation: Ended));
        Assert.True((await again.Audit.VerifyAsync(Ended)).IsWhole);
    }

    [Fact]
    public async Task A_store_of_a_newer_version_is_refused_and_left_alone()
    {
        var place = stores.NewPlace();
        await using (await stores.OpenAsync(place))
        {
        }

        await stores.TamperAsync(place, "DELETE FROM store_version; INSERT INTO store_version (version, name, applied_at, program) VALUES (9000, '9000-later', '2040-01-01T00:00:00.000Z', '7.5.0')");
        var e = await Assert.ThrowsAsync<StoreException>(() => stores.OpenAsync(place));
        Assert.Contains("9000", e.Found);
        Assert.Contains("7.5.0", e.Found);
        Assert.Contains("a newer Stillwatch", e.LikelyCause);
        Assert.Equal(9000L, Convert.ToInt64(await stores.AskAsync(place, "SELECT MIN(version) FROM store_version")));
    }

    [Fact]
    public async Task A_store_that_has_to_be_there_is_not_made()
    {
        var place = stores.NewPlace();
        foreach (bool isEmptyFileThere in new[] { false, true })
        {
            if (isEmptyFileThere && place is StorePlace.SqliteFile file) await File.WriteAllTextAsync(file.Path, "", Ended);
            var e = await Assert.ThrowsAsync<StoreException>(() => WorkbenchStore.OpenExistingAsync(place, stores.Clock, Ended));
            Assert.Equal("no store", e.Found);
        }

        await using (await stores.OpenAsync(place))
        {
        }

        await using var there = await WorkbenchStore.OpenExistingAsync(place, stores.Clock, Ended);
        Assert.Empty(await there.Recordings.FindAsync(new RecordingFilter(), Ended));
    }

    [Fact]
    public async Task Several_programs_that_open_a_new_store_at_once_make_it_once()
    {
        var place = stores.NewPlace();
        var opened = await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => stores.OpenAsync(place)));
        Assert.Equal(1L, await stores.AskAsync(place, "SELECT COUNT(*) FROM store_version"));
        foreach (var store in opened) await store.DisposeAsync();
    }

    [Fact]
    public async Task A_migration_that_fails_changes_nothing()
    {
        var place = stores.NewPlace();
        await using (await stores.OpenAsync(place))
        {
        }

        var later = stores.Later(place, "ALTER TABLE recordings ADD COLUMN later TEXT; UPDATE recordings SET nowhere = 1");
        await Assert.ThrowsAsync<StoreException>(() => WorkbenchStore.OpenAsync(later, stores.Clock, mayMake: true, Ended));
        Assert.Equal(1L, await stores.AskAsync(place, "SELECT COUNT(*) FROM store_version"));
        var e = await Assert.ThrowsAnyAsync<System.Data.Common.DbException>(() => stores.AskAsync(place, "SELECT COUNT(later) FROM recordings"));
        Assert.Contains("later", e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Tables_that_are_ours_by_name_and_no_store_are_refused()
    {
        var place = stores.NewPlace();
        await using (await stores.OpenAsync(place))
        {
        }

        await stores.TamperAsync(place, "DELETE FROM store_version");
        await Assert.ThrowsAsync<StoreException>(() => stores.OpenAsync(place));
        Assert.Equal(0L, await stores.AskAsync(place, "SELECT COUNT(*) FROM store_version"));
    }
}

public sealed class OpeningOnSqlite(SqliteStores stores) : OpeningTests(stores), IClassFixture<SqliteStores>
{
    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    private string NewPath() => ((StorePlace.SqliteFile)stores.NewPlace()).Path;

    [Theory]
    [InlineData("this is no database at all, but long enough to be looked at as if it were one")]
    [InlineData("SQLite format 3\0 and then nothing of the kind, whatever the first words say ....................................................")]
    public async Task A_file_that_is_not_a_store_is_refused_in_words_and_left_as_it_was(string text)
    {
        string path = NewPath();
        await File.WriteAllTextAsync(path, text, Ended);
        var e = await Assert.ThrowsAsync<StoreException>(() => stores.OpenAsync(new StorePlace.SqliteFile(path)));
        Assert.Equal(path, e.Where);
        Assert.Equal(text, await File.ReadAllTextAsync(path, Ended));
    }

    [Fact]
    public async Task Another_programs_database_is_refused_and_left_as_it_was()
    {
        var place = new StorePlace.SqliteFile(NewPath());
        await stores.TamperAsync(place, "CREATE TABLE songs (title TEXT)");
        byte[] before = await File.ReadAllBytesAsync(place.Path, Ended);
        var e = await Assert.ThrowsAsync<StoreException>(() => stores.OpenAsync(place));
        Assert.Contains("another program", e.Found);
        Assert.Equal(before, await File.ReadAllBytesAsync(place.Path, Ended));
    }

    [Fact]
    public async Task A_folder_that_cannot_be_made_is_named()
    {
        string file = NewPath();
        await File.WriteAllTextAsync(file, "in the way", Ended);
        var e = await Assert.ThrowsAsync<StoreException>(() => stores.OpenAsync(new StorePlace.SqliteFile(Path.Combine(file, "deeper", "store.db"))));
        Assert.Contains(file, e.Where);
    }

    [Fact]
    public async Task Only_the_owner_may_read_a_new_store_and_its_folder()
    {
        if (OperatingSystem.IsWindows())
        {
            Assert.Skip("Windows has no such modes.");
            return;
        }

        string path = Path.Combine(NewPath() + ".folder", "store.db");
        await using var store = await stores.OpenAsync(new StorePlace.SqliteFile(path));
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(path));
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute, File.GetUnixFileMode(Path.GetDirectoryName(path)!));
    }

    [Fact]
    public async Task A_commit_is_on_the_disk_and_readers_do_not_wait_for_a_writer()
    {
        string path = NewPath();
        await using var store = await stores.OpenAsync(new StorePlace.SqliteFile(path));
        Assert.Equal("wal", await stores.AskAsync(new StorePlace.SqliteFile(path), "PRAGMA journal_mode"));
        await using var database = new SqliteDatabase(path);
        Assert.Equal(2, await database.ReadAsync(session => Ask(session, "PRAGMA synchronous"), Ended));
        Assert.Equal(1, await database.ReadAsync(session => Ask(session, "PRAGMA foreign_keys"), Ended));
        // While one writes, the state before is read.
        await database.ChangeAsync(
            async session =>
            {
                await session.RunTextAsync("UPDATE store_version SET program = 'changed'");
                Assert.Empty(await store.Recordings.FindAsync(new RecordingFilter(), Ended));
                return 0;
            },
            Ended);
    }

    private static async Task<long> Ask(Session session, string sql)
    {
        await using var reader = await session.ReaderAsync(sql);
        Assert.True(await reader.ReadAsync(Ended));
        return reader.GetInt64(0);
    }
}

public sealed class OpeningOnPostgres(PostgresStores stores) : OpeningTests(stores), IClassFixture<PostgresStores>
{
    private readonly PostgresStores stores = stores;

    [Theory]
    [InlineData("off", "on")]
    [InlineData("remote_apply", "remote_apply")]
    public async Task A_commit_is_on_the_disk_even_where_the_server_is_told_not_to_wait_for_it(string told, string used)
    {
        var place = (StorePlace.PostgresDatabase)stores.NewPlace();
        await using var database = stores.DatabaseOf(place with { ConnectionString = place.ConnectionString + $";Options=-c synchronous_commit={told}" });
        Assert.Equal(used, await database.ChangeAsync(
            async session =>
            {
                await using var reader = await session.ReaderAsync("SHOW synchronous_commit");
                Assert.True(await reader.ReadAsync(TestContext.Current.CancellationToken));
                return reader.GetString(0);
            },
            TestContext.Current.CancellationToken));
    }

    [Theory]
    [InlineData("Host=/nowhere/at/all;Username=postgres;Database=postgres;Password=sesame", "no answer")]
    [InlineData("Nonsense=1;Password=sesame", "cannot be read")]
    [InlineData("Host=/nowhere;Search Path=\"a, b\";Password=sesame", "search path")]
    public async Task A_server_that_cannot_be_used_is_refused_in_words_without_the_password(string connection, string found)
    {
        var e = await Assert.ThrowsAsync<StoreException>(() => stores.OpenAsync(new StorePlace.PostgresDatabase(connection)));
        Assert.Contains(found, e.Message);
        Assert.DoesNotContain("sesame", e.Message);
        Assert.DoesNotContain("sesame", new StorePlace.PostgresDatabase(connection).ToString());
    }
}
