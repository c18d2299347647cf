using System.Data;
using System.Data.Common;
using Dapper;
using Npgsql;

namespace Stillwatch.Storage.Sql;

/// <summary>A schema of a PostgreSQL database.</summary>
internal sealed class PostgresDatabase : Database
{
    private const string DefaultSchema = "stillwatch";

    // Numbers that nobody else uses for locks in the same database: "StWa" and what is locked, and then whose, for stores in several schemas.
    private const int LockSpace = 0x53745700, AuditLock = 0x61, MigrationLock = 0x62;

    private readonly NpgsqlDataSource source;
    private readonly string schema;

    /// <exception cref="StoreException">The connection string is none.</exception>
    public PostgresDatabase(StorePlace.PostgresDatabase place)
    {
        Where = place.ToString();
        try
        {
            var parts = new NpgsqlConnectionStringBuilder(place.ConnectionString);
            schema = string.IsNullOrWhiteSpace(parts.SearchPath) ? DefaultSchema : parts.SearchPath.Trim();
            parts.SearchPath = schema;
            parts.ApplicationName ??= "stillwatch";
            source = NpgsqlDataSource.Create(parts.ToString());
        }
        catch (ArgumentException e)
        {
            throw new StoreException("a connection string that cannot be read", "\"Host=…;Database=…;Username=…\"", Where, e.Message.TrimEnd('.'), e);
        }

        if (!schema.All(c => char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c) || c == '_'))
            throw new StoreException($"the search path \"{schema}\"", "the name of one schema: small letters, digits and _", Where, "several schemas were named");
    }

    public override string Name => "Postgres";

    public override string Where { get; }

    public override int CommandSeconds => 120;

    /// <summary>
    /// An advisory lock until the transaction ends. The number of an audit line is its primary key, so that two lines after one could not
    /// both be stored; the lock makes the second writer wait instead of fail. It is asked for as late as possible: a long import holds it
    /// for its last statement only.
    /// </summary>
    public override Task LockAuditAsync(Session session) => LockAsync(session, AuditLock);

    public override async Task LockMigrationsAsync(Session session)
    {
        await LockAsync(session, MigrationLock).ConfigureAwait(false);
        await session.RunTextAsync($"CREATE SCHEMA IF NOT EXISTS {schema}").ConfigureAwait(false);
    }

    /// <summary>A table of ours that is not ours would stop the first migration by itself.</summary>
    public override Task<bool> MayBecomeOursAsync(Session session) => Task.FromResult(true);

    public override ValueTask DisposeAsync() => source.DisposeAsync();

    protected override async Task<DbConnection> ConnectAsync(CancellationToken cancellation) => await source.OpenConnectionAsync(cancellation).ConfigureAwait(false);

    protected override async Task<DbTransaction> BeginAsync(DbConnection connection, bool writes, CancellationToken cancellation)
    {
        // Writers look again after they waited for a lock; readers keep to one state.
        var transaction = await connection.BeginTransactionAsync(writes ? IsolationLevel.ReadCommitted : IsolationLevel.RepeatableRead, cancellation).ConfigureAwait(false);
        // A server may be told to answer before a commit is on its disk. What is reported stored here is stored.
        if (writes) await connection.ExecuteAsync("SELECT SET_CONFIG('synchronous_commit', 'on', TRUE) WHERE CURRENT_SETTING('synchronous_commit') = 'off'", transaction: transaction).ConfigureAwait(false);
        return transaction;
    }

    protected override Task<IDisposable> TurnToWriteAsync(CancellationToken cancellation) => Task.FromResult<IDisposable>(new NoTurn());

    protected override string ColumnsSql(string table) => $"SELECT column_name, data_type FROM information_schema.columns WHERE table_schema = '{schema}' AND table_name = '{table}'";

    protected override StoreException Explain(DbException exception) => exception switch
    {
        PostgresException { SqlState: PostgresErrorCodes.RaiseException } e => new($"a change that the store refuses ({e.MessageText})", "one that keeps its history", Where, "a change from outside the program", e),
        PostgresException { SqlState: PostgresErrorCodes.InvalidPassword or PostgresErrorCodes.InvalidAuthorizationSpecification } e => new("no admission", "a user who may connect", Where, e.MessageText, e),
        PostgresException { SqlState: PostgresErrorCodes.InsufficientPrivilege } e => new("a user who may not do this", "one who may make and fill tables in its schema", Where, e.MessageText, e),
        PostgresException { SqlState: PostgresErrorCodes.DiskFull } e => new("no room left", "room for what is to be stored", Where, "the server's disk is full; nothing of this was stored", e),
        PostgresException e => new($"an error of the database ({e.SqlState}: {e.MessageText})", "a working store", Where, e.IsTransient ? "the server was busy; try again" : "tables that another program changed", e) { IsTransient = e.IsTransient },
        _ => new($"no answer ({exception.Message})", "a server that answers", Where, "it is not running, not reachable, or went away", exception) { IsTransient = true },
    };

    private Task<int> LockAsync(Session session, int what) => session.RunTextAsync($"SELECT pg_advisory_xact_lock({LockSpace + what}, hashtext('{schema}'))");

    private sealed class NoTurn : IDisposable
    {
        public void Dispose()
        {
        }
    }
}
