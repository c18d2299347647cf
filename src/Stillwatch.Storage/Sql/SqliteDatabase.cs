using System.Data.Common;
using Dapper;
using Microsoft.Data.Sqlite;

namespace Stillwatch.Storage.Sql;

/// <summary>A SQLite file with a write-ahead log: readers see the last whole state while one writer writes.</summary>
internal sealed class SqliteDatabase : Database
{
    // "StWa": says to other programs, and to us, whose file it is.
    private const int ApplicationId = 0x53745761;

    private const int NotADatabase = 26, Busy = 5, Locked = 6, Full = 13, CannotOpen = 14, ReadOnly = 8, Corrupt = 11, Constraint = 19, InputOutput = 10;

    private static readonly string OursOrNew = $"SELECT i.application_id = {ApplicationId} OR p.page_count = 0 FROM pragma_application_id i, pragma_page_count p";

    private readonly string path;
    private readonly string connectionString;
    private readonly SemaphoreSlim oneWriter = new(1, 1);

    public SqliteDatabase(string path)
    {
        this.path = Path.GetFullPath(path);
        connectionString = new SqliteConnectionStringBuilder
        {
            DataSource = this.path,
            Mode = SqliteOpenMode.ReadWriteCreate,
            ForeignKeys = true,
            DefaultTimeout = CommandSeconds, // how long a writer waits for one in another process
        }.ToString();
    }

    public override string Name => "Sqlite";

    public override string Where => path;

    public override int CommandSeconds => 120;

    /// <summary>Nothing to do: a transaction that writes began with BEGIN IMMEDIATE, and SQLite lets in one of those at a time, over all processes.</summary>
    public override Task LockAuditAsync(Session session) => Task.CompletedTask;

    public override Task LockMigrationsAsync(Session session) => Task.CompletedTask;

    public override async Task<bool> MayBecomeOursAsync(Session session)
    {
        using var asked = session.Prepared("SELECT (SELECT COUNT(*) FROM sqlite_schema WHERE name NOT LIKE 'sqlite_%' AND name <> 'store_version')");
        if ((long)(await asked.ExecuteScalarAsync(session.Cancellation).ConfigureAwait(false))! > 0) return false;
        await session.RunTextAsync($"PRAGMA application_id = {ApplicationId}").ConfigureAwait(false);
        return true;
    }

    public override ValueTask DisposeAsync()
    {
        using var connection = new SqliteConnection(connectionString);
        SqliteConnection.ClearPool(connection);
        oneWriter.Dispose();
        return ValueTask.CompletedTask;
    }

    protected override async Task<DbConnection> ConnectAsync(CancellationToken cancellation)
    {
        MakePrivate();
        var connection = new SqliteConnection(connectionString);
        try
        {
            await connection.OpenAsync(cancellation).ConfigureAwait(false);
            // FULL: a commit is on the disk before it returns, so what was reported stored outlives a power cut. A file may come from elsewhere: none of its schema is trusted to run functions.
            await connection.ExecuteAsync("PRAGMA synchronous = FULL; PRAGMA trusted_schema = OFF;").ConfigureAwait(false);
            // The kind of journal is written into the file: into a new one or one of ours, never into another program's.
            if (await connection.ExecuteScalarAsync<bool>(OursOrNew).ConfigureAwait(false)) await connection.ExecuteAsync("PRAGMA journal_mode = WAL").ConfigureAwait(false);
            return connection;
        }
        catch
        {
            await connection.DisposeAsync().ConfigureAwait(false);
            throw;
        }
    }

    protected override Task<DbTransaction> BeginAsync(DbConnection connection, bool writes, CancellationToken cancellation) =>
        // Immediate: a transaction that first reads and then writes would fail, not wait, if another wrote in between.
        Task.FromResult<DbTransaction>(((SqliteConnection)connection).BeginTransaction(deferred: !writes));

    protected override async Task<IDisposable> TurnToWriteAsync(CancellationToken cancellation)
    {
        await oneWriter.WaitAsync(cancellation).ConfigureAwait(false);
        return new Turn(oneWriter);
    }

    protected override string ColumnsSql(string table) => $"SELECT name, type FROM pragma_table_info('{table}')";

    protected override StoreException Explain(DbException exception)
    {
        int code = (exception as SqliteException)?.SqliteErrorCode ?? 0;
        return code switch
        {
            NotADatabase => new("a file that is not a database", "a Stillwatch store", path, "another file of that name, or a damaged one; restore a backup into a new file", exception),
            Busy or Locked => new("the store in use by another writer", "a free moment", path, "a long import in another program; try again", exception) { IsTransient = true },
            Full => new("no room left", "room for what is to be stored", path, "the disk is full; nothing of this was stored", exception),
            CannotOpen or ReadOnly => new("a file that cannot be opened for writing", "one that may be read and written", path, "its folder is missing or belongs to somebody else", exception),
            Corrupt or InputOutput => new($"a damaged file ({exception.Message})", "a whole Stillwatch store", path, "the disk, or a copy made while the store was open; restore a backup into a new file", exception),
            Constraint => new($"a change that the store refuses ({exception.Message})", "one that keeps its history", path, "a change from outside the program", exception),
            _ => new($"an error of the database ({exception.Message})", "a working store", path, "a damaged file, or one that another program changed", exception),
        };
    }

    // Recordings are about patients: a file that is made here is for its owner alone.
    private void MakePrivate()
    {
        if (File.Exists(path)) return;
        try
        {
            var folder = Path.GetDirectoryName(path)!;
            if (!Directory.Exists(folder))
            {
                if (OperatingSystem.IsWindows()) Directory.CreateDirectory(folder);
                else Directory.CreateDirectory(folder, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
            }

            var options = new FileStreamOptions { Mode = FileMode.OpenOrCreate, Access = FileAccess.Write, Share = FileShare.ReadWrite };
            if (!OperatingSystem.IsWindows()) options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
            using var made = new FileStream(path, options);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new StoreException("a place where no file can be made", "a folder that may be written", path, e.Message.TrimEnd('.'), e);
        }
    }

    private sealed class Turn(SemaphoreSlim held) : IDisposable
    {
        public void Dispose() => held.Release();
    }
}
