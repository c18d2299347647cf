using System.Data.Common;
using Dapper;

namespace Stillwatch.Storage.Sql;

/// <summary>A connection inside one transaction.</summary>
internal sealed class Session(Database database, DbConnection connection, DbTransaction transaction, CancellationToken cancellation)
{
    static Session() => DefaultTypeMap.MatchNamesWithUnderscores = true;

    public CancellationToken Cancellation => cancellation;

    public Database Database => database;

    /// <summary>Runs a statement and returns the rows it touched.</summary>
    public Task<int> RunAsync(string name, object? values = null) => RunTextAsync(SqlText.Of(name), values);

    public Task<int> RunTextAsync(string sql, object? values = null) => connection.ExecuteAsync(Command(sql, values));

    public async Task<IReadOnlyList<T>> ReadAsync<T>(string name, object? values = null) =>
        (await connection.QueryAsync<T>(Command(SqlText.Of(name), values)).ConfigureAwait(false)).AsList();

    public Task<T?> FirstAsync<T>(string name, object? values = null) => connection.QueryFirstOrDefaultAsync<T>(Command(SqlText.Of(name), values));

    /// <summary>Row by row, for what must not be in memory at once.</summary>
    public IAsyncEnumerable<T> EachAsync<T>(string name, object? values = null) => connection.QueryUnbufferedAsync<T>(SqlText.Of(name), values, transaction);

    public Task<long> CountAsync(string table) => connection.ExecuteScalarAsync<long>(Command($"SELECT COUNT(*) FROM {table}", null));

    public Task<DbDataReader> ReaderAsync(string sql) => connection.ExecuteReaderAsync(Command(sql, null));

    /// <summary>A statement that is run again and again with other values.</summary>
    public DbCommand Prepared(string sql)
    {
        var command = connection.CreateCommand();
        command.CommandText = sql;
        command.Transaction = transaction;
        command.CommandTimeout = database.CommandSeconds;
        return command;
    }

    // SQLite looks at a token only before it begins, so that long work asks again between its statements.
    private CommandDefinition Command(string sql, object? values)
    {
        cancellation.ThrowIfCancellationRequested();
        return new CommandDefinition(sql, values, transaction, commandTimeout: database.CommandSeconds, cancellationToken: cancellation);
    }
}
