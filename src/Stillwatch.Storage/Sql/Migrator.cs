using System.Reflection;

namespace Stillwatch.Storage.Sql;

/// <summary>Brings a store up to this program's version, all steps in one transaction.</summary>
internal static class Migrator
{
    /// <summary>The version of the tables that this program writes.</summary>
    public static int VersionOf(Database database) => SqlText.Migrations(database.Name)[^1].Version;

    public static string Program => typeof(Migrator).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion.Split('+')[0] ?? "unknown";

    /// <exception cref="StoreException">The store was written by a newer version, or is not one.</exception>
    public static Task<int> MigrateAsync(Database database, TimeProvider clock, CancellationToken cancellation) => database.ChangeAsync(
        async session =>
        {
            await database.LockMigrationsAsync(session).ConfigureAwait(false);
            await session.RunAsync("migrations/create-version-table").ConfigureAwait(false);
            var applied = await session.ReadAsync<AppliedMigration>("migrations/applied").ConfigureAwait(false);
            var known = SqlText.Migrations(database.Name);
            if (applied.Count > 0 && applied[^1].Number > known[^1].Version)
            {
                throw new StoreException(
                    $"a store of version {applied[^1].Number}, written by Stillwatch {applied[^1].Program}", $"at most version {known[^1].Version}, which Stillwatch {Program} writes", database.Where,
                    "a newer Stillwatch used this store; use that one, or restore an older backup into a new store");
            }

            if (applied.Count == 0 && !await database.MayBecomeOursAsync(session).ConfigureAwait(false))
                throw new StoreException("tables of another program", "a Stillwatch store, or an empty database", database.Where, "the path of another program's file");
            foreach (var migration in known.Where(m => applied.All(a => a.Number != m.Version)))
            {
                await session.RunTextAsync(migration.Sql).ConfigureAwait(false);
                await session.RunAsync("migrations/record", new { Version = migration.Version, Name = migration.Name, AppliedAt = StoredTime.Of(clock.GetUtcNow()), Program = Program }).ConfigureAwait(false);
            }

            return known[^1].Version;
        },
        cancellation);

    private sealed class AppliedMigration
    {
        public int Number { get; init; }

        public required string Program { get; init; }
    }
}
