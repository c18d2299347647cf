using System.Data;
using System.Data.Common;

namespace Stillwatch.Storage.Sql;

/// <summary>One of the two databases: how it connects, begins, locks, and what its errors mean.</summary>
internal abstract class Database : IAsyncDisposable
{
    /// <summary>The folder of its migrations under Sql.</summary>
    public abstract string Name { get; }

    /// <summary>What made its tables and makes them, in order.</summary>
    public IReadOnlyList<Migration> Migrations { get => field ??= SqlText.Migrations(Name); init; }

    /// <summary>Where it is, without secrets.</summary>
    public abstract string Where { get; }

    /// <summary>How long one statement may take, waiting for other writers included.</summary>
    public abstract int CommandSeconds { get; }

    /// <summary>Work that sees one state of the store from beginning to end, and changes nothing.</summary>
    public Task<T> ReadAsync<T>(Func<Session, Task<T>> work, CancellationToken cancellation) => InTransactionAsync(work, writes: false, cancellation);

    /// <summary>Work that is done whole, and durable when this returns, or not at all.</summary>
    public Task<T> ChangeAsync<T>(Func<Session, Task<T>> work, CancellationToken cancellation) => InTransactionAsync(work, writes: true, cancellation);

    /// <summary>
    /// Makes this transaction the only one that adds to the audit until it ends. Whoever asks for the last line afterwards sees what all
    /// before have committed, so that the chain cannot fork.
    /// </summary>
    public abstract Task LockAuditAsync(Session session);

    /// <summary>Makes this transaction the only one that changes tables.</summary>
    public abstract Task LockMigrationsAsync(Session session);

    /// <summary>Whether what is there is empty or ours, before the first migration.</summary>
    public abstract Task<bool> MayBecomeOursAsync(Session session);

    /// <summary>The columns of a table as they are now, in no order; empty: there is no such table.</summary>
    public async Task<IReadOnlyList<StoreColumn>> ColumnsAsync(Session session, string table)
    {
        using var reader = await session.ReaderAsync(ColumnsSql(table)).ConfigureAwait(false);
        var columns = new List<StoreColumn>();
        while (await reader.ReadAsync(session.Cancellation).ConfigureAwait(false)) columns.Add(new StoreColumn(reader.GetString(0), TypeOf(reader.GetString(1).ToUpperInvariant())));
        return columns;
    }

    /// <summary>Rows as what they mean; what cannot have been written so is reported as damage.</summary>
    /// <exception cref="StoreException">A row cannot be read.</exception>
    public IReadOnlyList<T> Understood<TRow, T>(IReadOnlyList<TRow> rows, Func<TRow, string> name, Func<TRow, T> meaning)
    {
        var understood = new List<T>(rows.Count);
        foreach (var row in rows)
        {
            try
            {
                understood.Add(meaning(row));
            }
            catch (Exception e) when (e is FormatException or ArgumentException or OverflowException)
            {
                throw Damaged($"{name(row)} ({e.Message.TrimEnd('.')})", e);
            }
        }

        return understood;
    }

    public abstract ValueTask DisposeAsync();

    protected abstract Task<DbConnection> ConnectAsync(CancellationToken cancellation);

    protected abstract Task<DbTransaction> BeginAsync(DbConnection connection, bool writes, CancellationToken cancellation);

    /// <summary>Lets writers of this process in one by one where the database itself would make them try again and again.</summary>
    protected abstract Task<IDisposable> TurnToWriteAsync(CancellationToken cancellation);

    protected abstract StoreException Explain(DbException exception);

    /// <summary>A statement that gives name and type of each column.</summary>
    protected abstract string ColumnsSql(string table);

    private static ColumnType TypeOf(string type) => type switch
    {
        "TEXT" => ColumnType.Text,
        "BLOB" or "BYTEA" => ColumnType.Bytes,
        "BOOLEAN" => ColumnType.Truth,
        _ => ColumnType.Whole,
    };

    private StoreException Damaged(string what, Exception inner) =>
        new($"a row that cannot have been written so: {what}", "rows as the program writes them", Where, "the disk, or a change from outside the program; audit verify looks at every line", inner);

    private async Task<T> InTransactionAsync<T>(Func<Session, Task<T>> work, bool writes, CancellationToken cancellation)
    {
        try
        {
            // Off the caller's thread: SQLite does its work on whichever thread asks, and that may be a page's.
            return await Task.Run(() => RunAsync(work, writes, cancellation), cancellation).ConfigureAwait(false);
        }
        catch (DbException e)
        {
            cancellation.ThrowIfCancellationRequested();
            throw Explain(e);
        }
        catch (Exception e) when (e is DataException or InvalidCastException)
        {
            throw Damaged(e.Message.TrimEnd('.'), e);
        }
        catch (OverflowException e)
        {
            throw new StoreException("a number beyond what can be stored", "times and sizes within 64 bits", Where, "a file with impossible times", e);
        }
    }

    private async Task<T> RunAsync<T>(Func<Session, Task<T>> work, bool writes, CancellationToken cancellation)
    {
        using var turn = writes ? await TurnToWriteAsync(cancellation).ConfigureAwait(false) : null;
        var connection = await ConnectAsync(cancellation).ConfigureAwait(false);
        await using (connection.ConfigureAwait(false))
        {
            var transaction = await BeginAsync(connection, writes, cancellation).ConfigureAwait(false);
            await using (transaction.ConfigureAwait(false))
            {
                var result = await work(new Session(this, connection, transaction, cancellation)).ConfigureAwait(false);
                // From here on it is done or not done: a cancellation that comes now must not leave the caller in doubt.
                await transaction.CommitAsync(CancellationToken.None).ConfigureAwait(false);
                return result;
            }
        }
    }
}
