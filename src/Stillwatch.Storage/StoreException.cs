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

    /// <summary>Whether the same call may succeed a moment later: the database was busy or away.</summary>
    public bool IsTransient { get; init; }
}
