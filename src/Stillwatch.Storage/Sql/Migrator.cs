using System.Reflection;

namespace Stillwatch.Storage.Sql;

/// <summary>Brings a store up to a version, all steps in one transaction.</summary>
internal static class Migrator
{
    public static string Program => typeof(Migrator).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion.Split('+')[0] ?? "unknown";

    /// <summary>The version of the tables that this program writes.</summary>
    public static int VersionOf(Database database) => database.Migrations[^1].Version;

    /// <summary>Brings a store up to this program's version.</summary>
    /// <param name="database">Where.</param>
    /// <param name="clock">Says when.</param>
    /// <param name="mayMake">Whether a store is made where there is none.</param>
    /// <param name="cancellation">Ends it, and nothing is changed.</param>
    /// <exception cref="StoreException">The store was written by a newer version, is not one, or is not there.</exception>
    public static Task<int> MigrateAsync(Database database, TimeProvider clock, bool mayMake, CancellationToken cancellation) =>
        database.ChangeAsync(session => MigrateAsync(session, clock, VersionOf(database), mayMake), cancellation);

    /// <summary>Brings a store up to a version within a transaction, and returns its version, which is a later one where the store is later already.</summary>
    /// <exception cref="StoreException">The store was written by a newer version, is not one, or is not there.</exception>
    public static async Task<int> MigrateAsync(Session session, TimeProvider clock, int upTo, bool mayMake = true)
    {
        var database = session.Database;
        await database.LockMigrationsAsync(session).ConfigureAwait(false);
        await session.RunAsync("migrations/create-version-table").ConfigureAwait(false);
        var applied = await session.ReadAsync<AppliedMigration>("migrations/applied").ConfigureAwait(false);
        if (applied.Count > 0 && applied[^1].Number > VersionOf(database))
        {
            throw new StoreException(
                $"a store of version {applied[^1].Number}, written by Stillwatch {applied[^1].Program}", $"at most version {VersionOf(database)}, which Stillwatch {Program} writes", database.Where,
                "a newer Stillwatch used this store; use that one, or restore an older backup into a new store");
        }

        if (applied.Count == 0 && !await database.MayBecomeOursAsync(session).ConfigureAwait(false))
            throw new StoreException("tables of another program", "a Stillwatch store, or an empty database", database.Where, "the path of another program's file");
        if (applied.Count == 0 && !mayMake) throw StoreException.NoStore(database.Where);
        foreach (var migration in database.Migrations.Where(m => m.Version <= upTo && applied.All(a => a.Number != m.Version)))
        {
            await session.RunTextAsync(migration.Sql).ConfigureAwait(false);
            await session.RunAsync("migrations/record", new { Version = migration.Version, Name = migration.Name, AppliedAt = StoredTime.Of(clock.GetUtcNow()), Program = Program }).ConfigureAwait(false);
        }

        return Math.Max(upTo, applied.Count > 0 ? applied[^1].Number : 0);
    }

    private sealed class AppliedMigration
    {
        public int Number { get; init; }

        public required string Program { get; init; }
    }
}
