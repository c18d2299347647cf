namespace Stillwatch.Storage;

/// <summary>What the store could not do, in the four parts of every error here.</summary>
public sealed class StoreException : Exception
{
    public StoreException(string found, string expected, string where, string likelyCause, Exception? inner = null)
        : base($"Found {found}, expected {expected}, in {where}; likely cause: {likelyCause}.", inner)
    {
        Found = found;
        Expected = expected;
        Where = where;
        LikelyCause = likelyCause;
    }

    public string Found { get; }

    public string Expected { get; }

    public string Where { get; }

    public string LikelyCause { get; }

    internal static StoreException NoStore(string where) => new("no store", "one that was made by import, serve or restore", where, "another data folder or database was meant; name it with --data or --database");

    /// <summary>Whether the same call may succeed a moment later: the database was busy or away.</summary>
    public bool IsTransient { get; init; }
}
