using Npgsql;

namespace Stillwatch.Storage;

/// <summary>Where a store lies: in a file of this machine, or in a PostgreSQL database.</summary>
public abstract record StorePlace
{
    private StorePlace()
    {
    }

    /// <summary>A SQLite file. It and its folder are made where they are not there yet, readable for their owner alone.</summary>
    /// <param name="Path">Of the file; beside it SQLite keeps two of its own while the store is open.</param>
    public sealed record SqliteFile(string Path) : StorePlace
    {
        public override string ToString() => Path;
    }

    /// <summary>A PostgreSQL database. The tables lie in the schema that "Search Path" names; without one in "stillwatch".</summary>
    /// <param name="ConnectionString">As Npgsql takes it ("Host=…;Database=…;Username=…").</param>
    public sealed record PostgresDatabase(string ConnectionString) : StorePlace
    {
        /// <summary>Host, port and database; never the password.</summary>
        public override string ToString()
        {
            try
            {
                var parts = new NpgsqlConnectionStringBuilder(ConnectionString);
                return $"PostgreSQL at {parts.Host}:{parts.Port}, database {parts.Database}";
            }
            catch (ArgumentException)
            {
                return "PostgreSQL";
            }
        }
    }
}
