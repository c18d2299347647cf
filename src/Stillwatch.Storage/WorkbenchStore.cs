using Stillwatch.Storage.Audit;
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

    private WorkbenchStore(Database database, TimeProvider clock)
    {
        this.database = database;
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
    public static async Task<WorkbenchStore> OpenAsync(StorePlace place, TimeProvider clock, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(place);
        ArgumentNullException.ThrowIfNull(clock);
        Database database = place switch
        {
            StorePlace.SqliteFile file => new SqliteDatabase(file.Path),
            StorePlace.PostgresDatabase postgres => new PostgresDatabase(postgres),
            _ => throw new ArgumentException($"Found {place.GetType().Name}, expected a file or a database.", nameof(place)),
        };
        try
        {
            await Migrator.MigrateAsync(database, clock, cancellation).ConfigureAwait(false);
            return new WorkbenchStore(database, clock);
        }
        catch
        {
            await database.DisposeAsync().ConfigureAwait(false);
            throw;
        }
    }

    public ValueTask DisposeAsync() => database.DisposeAsync();
}
