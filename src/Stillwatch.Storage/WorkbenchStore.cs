using Stillwatch.Storage.Audit;
using Stillwatch.Storage.Backup;
using Stillwatch.Storage.Marks;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Reports;
using Stillwatch.Storage.Settings;
using Stillwatch.Storage.Sql;

namespace Stillwatch.Storage;

/// <summary>The workbench's store over one of the two databases; behaviour is the same on both.</summary>
public sealed class WorkbenchStore : IWorkbenchStore
{
    private readonly Database database;
    private readonly TimeProvider clock;

    private WorkbenchStore(Database database, TimeProvider clock)
    {
        this.database = database;
        this.clock = clock;
        Recordings = new RecordingStore(database, clock);
        Marks = new MarkStore(database, clock);
        Settings = new SettingsHistory(database, clock);
        Reports = new ReportStore(database, clock);
        Audit = new AuditTrail(database, clock);
    }

    public IRecordingStore Recordings { get; }

    public IMarkStore Marks { get; }

    public ISettingsHistory Settings { get; }

    public IReportStore Reports { get; }

    public IAuditTrail Audit { get; }

    /// <summary>Where it lies, without secrets.</summary>
    public string Where => database.Where;

    /// <summary>Opens a store, makes it where there is none, and brings one of an earlier version up to this program's.</summary>
    /// <param name="place">The file or the database.</param>
    /// <param name="clock">Says when things are done.</param>
    /// <param name="cancellation">Ends the opening; a migration is done whole or not at all.</param>
    /// <exception cref="StoreException">It was written by a newer version, belongs to another program, is damaged, or cannot be reached.</exception>
    public static Task<WorkbenchStore> OpenAsync(StorePlace place, TimeProvider clock, CancellationToken cancellation = default) => OpenAsync(DatabaseOf(place), clock, mayMake: true, cancellation);

    /// <summary>Opens a store that has to be there, and brings one of an earlier version up to this program's; makes none.</summary>
    /// <param name="place">The file or the database.</param>
    /// <param name="clock">Says when things are done.</param>
    /// <param name="cancellation">Ends the opening; a migration is done whole or not at all.</param>
    /// <exception cref="StoreException">There is none; or as <see cref="OpenAsync(StorePlace, TimeProvider, CancellationToken)"/>.</exception>
    public static Task<WorkbenchStore> OpenExistingAsync(StorePlace place, TimeProvider clock, CancellationToken cancellation = default) =>
        place is StorePlace.SqliteFile file && !File.Exists(file.Path) ? Task.FromException<WorkbenchStore>(StoreException.NoStore(file.Path)) : OpenAsync(DatabaseOf(place), clock, mayMake: false, cancellation);

    internal static async Task<WorkbenchStore> OpenAsync(Database database, TimeProvider clock, bool mayMake, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(clock);
        try
        {
            await Migrator.MigrateAsync(database, clock, mayMake, cancellation).ConfigureAwait(false);
            return new WorkbenchStore(database, clock);
        }
        catch
        {
            await database.DisposeAsync().ConfigureAwait(false);
            throw;
        }
    }

    /// <summary>Writes all of it, as it is at one moment, into one archive that either database can be restored from, and notes so in the audit.</summary>
    /// <param name="file">A name that is free.</param>
    /// <param name="actor">Who.</param>
    /// <param name="cancellation">Cancelled: no file is left. Once the archive has its name it is noted in the audit, whatever is cancelled.</param>
    /// <exception cref="StoreException">The file is there already or cannot be written, or the audit is not whole.</exception>
    public Task<BackupSummary> BackupAsync(string file, Actor actor, CancellationToken cancellation = default) => new BackupWriting(database, clock).WriteAsync(file, actor, cancellation);

    /// <summary>
    /// Makes a store of a backup, checks every part and the audit, and notes so in the audit; all of it or nothing. A backup of an earlier
    /// version goes into tables of its own version, which are then brought up to this one as a store of that version would be.
    /// </summary>
    /// <param name="place">Where no store has been, or an empty one of the backup's version.</param>
    /// <param name="file">An archive of <see cref="BackupAsync"/>, of a store of either kind.</param>
    /// <param name="actor">Who.</param>
    /// <param name="clock">Says when.</param>
    /// <param name="cancellation">Cancelled: nothing was restored.</param>
    /// <exception cref="StoreException">There is something in the store, or it is of a later version than the backup; the file is no backup, was damaged or changed, or comes from a newer version.</exception>
    public static Task<BackupSummary> RestoreAsync(StorePlace place, string file, Actor actor, TimeProvider clock, CancellationToken cancellation = default) =>
        RestoreAsync(DatabaseOf(place), file, actor, clock, cancellation);

    internal static async Task<BackupSummary> RestoreAsync(Database database, string file, Actor actor, TimeProvider clock, CancellationToken cancellation)
    {
        await using (database.ConfigureAwait(false)) return await new BackupReading(database, clock).RestoreAsync(file, actor, cancellation).ConfigureAwait(false);
    }

    public ValueTask DisposeAsync() => database.DisposeAsync();

    private static Database DatabaseOf(StorePlace place) => place switch
    {
        StorePlace.SqliteFile file => new SqliteDatabase(file.Path),
        StorePlace.PostgresDatabase postgres => new PostgresDatabase(postgres),
        _ => throw new ArgumentException($"Found {place}, expected a file or a database.", nameof(place)),
    };
}
