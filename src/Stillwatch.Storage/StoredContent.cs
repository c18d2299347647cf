namespace Stillwatch.Storage;

/// <summary>How large a thing may be that is kept in one piece.</summary>
internal static class StoredContent
{
    // Far beyond any report; and what a backup may have to hold in memory, one at a time.
    public const int MostBytes = 128 << 20;

    /// <exception cref="StoreException">It is larger.</exception>
    public static void RequireRoom(byte[] content, string what, string where)
    {
        if (content.Length > MostBytes) throw new StoreException($"{content.Length:N0} bytes in {what}", $"at most {MostBytes:N0}", where, "a recording was attached where a small file belongs");
    }
}
