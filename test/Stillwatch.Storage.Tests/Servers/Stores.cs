using System.Data.Common;
using Stillwatch.Storage.Backup;
using Stillwatch.Storage.Sql;

namespace Stillwatch.Storage.Tests.Servers;

/// <summary>Makes empty stores of one kind of database, and lets a test reach behind the store's back.</summary>
public abstract class Stores : IAsyncDisposable
{
    public TestClock Clock { get; } = new();

    /// <summary>A place where no store has been.</summary>
    public abstract StorePlace NewPlace();

    public Task<WorkbenchStore> OpenAsync(StorePlace place) => WorkbenchStore.OpenAsync(place, Clock, TestContext.Current.CancellationToken);

    public Task<BackupSummary> RestoreAsync(StorePlace place, string file) => WorkbenchStore.RestoreAsync(place, file, Actor.Local, Clock, TestContext.Current.CancellationToken);

    public Task<WorkbenchStore> NewAsync() => OpenAsync(NewPlace());

    public abstract Task<DbConnection> BehindTheBackOfAsync(StorePlace place);

    internal abstract Database DatabaseOf(StorePlace place);

    /// <summary>The database as a later program would open it, which knows one migration more.</summary>
    internal abstract Database Later(StorePlace place, string migration);

    internal static IReadOnlyList<Migration> And(IReadOnlyList<Migration> known, string migration) => [.. known, new Migration(known[^1].Version + 1, "later", migration)];

    /// <summary>Runs statements as somebody would who has the database and not the program.</summary>
    public async Task<int> TamperAsync(StorePlace place, string sql)
    {
        await using var connection = await BehindTheBackOfAsync(place);
        await using var command = connection.CreateCommand();
        command.CommandText = sql;
        return await command.ExecuteNonQueryAsync(TestContext.Current.CancellationToken);
    }

    public async Task<object?> AskAsync(StorePlace place, string sql)
    {
        await using var connection = await BehindTheBackOfAsync(place);
        await using var command = connection.CreateCommand();
        command.CommandText = sql;
        return await command.ExecuteScalarAsync(TestContext.Current.CancellationToken);
    }

    /// <summary>The statement that takes away the triggers which keep a table as it was written.</summary>
    public abstract string WithoutTriggers(string table, params string[] triggers);

    public abstract ValueTask DisposeAsync();
}
