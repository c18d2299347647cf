using System.Data.Common;
using Microsoft.Data.Sqlite;
using Stillwatch.Storage.Sql;

namespace Stillwatch.Storage.Tests.Servers;

public sealed class SqliteStores : Stores
{
    private readonly string folder = Directory.CreateTempSubdirectory("stillwatch-store-").FullName;
    private int made;

    public override StorePlace NewPlace() => new StorePlace.SqliteFile(Path.Combine(folder, $"{Interlocked.Increment(ref made)}.db"));

    internal override Database DatabaseOf(StorePlace place) => new SqliteDatabase(((StorePlace.SqliteFile)place).Path);

    internal override Database Later(StorePlace place, string migration) => new SqliteDatabase(((StorePlace.SqliteFile)place).Path) { Migrations = And(SqlText.Migrations("Sqlite"), migration) };

    public override async Task<DbConnection> BehindTheBackOfAsync(StorePlace place)
    {
        var connection = new SqliteConnection($"Data Source={((StorePlace.SqliteFile)place).Path};Pooling=False");
        await connection.OpenAsync(TestContext.Current.CancellationToken);
        return connection;
    }

    public override string WithoutTriggers(string table, params string[] triggers) => string.Concat(triggers.Select(t => $"DROP TRIGGER {t};"));

    public override ValueTask DisposeAsync()
    {
        Directory.Delete(folder, recursive: true);
        return ValueTask.CompletedTask;
    }
}
