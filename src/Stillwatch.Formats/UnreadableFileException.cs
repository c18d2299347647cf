namespace Stillwatch.Formats;

/// <summary>A file that cannot be read at all. What can be read in part comes back with issues instead.</summary>
public sealed class UnreadableFileException(string found, string expected, string where, string likelyCause, Exception? inner = null)
    : Exception($"{where}: found {found}; expected {expected}. Likely cause: {likelyCause}.", inner)
{
    public string Found { get; } = found;

    public string Expected { get; } = expected;

    /// <summary>The file, and the line and column where there is one.</summary>
    public string Where { get; } = where;

    public string LikelyCause { get; } = likelyCause;
}
