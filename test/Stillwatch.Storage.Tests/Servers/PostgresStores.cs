using System.Data.Common;
using Npgsql;
using Stillwatch.Storage.Sql;

namespace Stillwatch.Storage.Tests.Servers;

public sealed class PostgresStores : Stores
{
    private static int made;

    public override StorePlace NewPlace() => new StorePlace.PostgresDatabase($"{PostgresServer.ConnectionString};Search Path=store_{Interlocked.Increment(ref made)};Maximum Pool Size=20");

    internal override Database DatabaseOf(StorePlace place) => new PostgresDatabase((StorePlace.PostgresDatabase)place);

    internal override Database Later(StorePlace place, string migration) => new PostgresDatabase((StorePlace.PostgresDatabase)place) { Migrations = And(SqlText.Migrations("Postgres"), migration) };

    public override async Task<DbConnection> BehindTheBackOfAsync(StorePlace place)
    {
        var connection = new NpgsqlConnection(((StorePlace.PostgresDatabase)place).ConnectionString + ";Pooling=False");
        await connection.OpenAsync(TestContext.Current.CancellationToken);
        return connection;
    }

    public override string WithoutTriggers(string table, params string[] triggers) => string.Concat(triggers.Select(t => $"DROP TRIGGER {t} ON {table};"));

    public override ValueTask DisposeAsync() => ValueTask.CompletedTask;
}
