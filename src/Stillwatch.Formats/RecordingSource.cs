using System.Buffers;

namespace Stillwatch.Formats;

/// <summary>A file to read, and what stands beside it: some formats keep one recording in several files.</summary>
/// <param name="Name">The file's name without folders.</param>
/// <param name="Folder">Where it stands.</param>
public sealed record RecordingSource(string Name, IRecordingFolder Folder)
{
    /// <exception cref="FileNotFoundException">It is gone.</exception>
    public Stream Open() => Folder.TryOpen(Name) ?? throw new FileNotFoundException($"No file {Name}.", Name);

    /// <summary>One file in memory with nothing beside it.</summary>
    public static RecordingSource Of(string name, byte[] bytes) => new(name, new RecordingFolder(new Dictionary<string, byte[]> { [name] = bytes }));
}

/// <summary>The files among which a recording stands. A header that names a file elsewhere does not reach it.</summary>
public interface IRecordingFolder
{
    /// <summary>A seekable stream; null where there is no such file. The name has no folder in it (<see cref="FileNames.IsPlain"/>).</summary>
    Stream? TryOpen(string name);

    /// <summary>Names of the files that begin so, without folders, in ordinal order, at most 1000.</summary>
    IReadOnlyList<string> NamesBeginning(string start);
}

/// <summary>Files held in memory.</summary>
public sealed class RecordingFolder(IReadOnlyDictionary<string, byte[]> files) : IRecordingFolder
{
    public Stream? TryOpen(string name) => FileNames.IsPlain(name) && files.TryGetValue(name, out byte[]? bytes) ? new MemoryStream(bytes, writable: false) : null;

    public IReadOnlyList<string> NamesBeginning(string start) => [.. files.Keys.Where(n => n.StartsWith(start, StringComparison.Ordinal)).Order(StringComparer.Ordinal).Take(1000)];
}

/// <summary>A folder on disk; no name leads out of it, whatever a file's header says. A link that somebody put into it is followed.</summary>
public sealed class DiskFolder(string path) : IRecordingFolder
{
    public Stream? TryOpen(string name)
    {
        if (!FileNames.IsPlain(name)) return null;
        string file = Path.Combine(path, name);
        return File.Exists(file) ? RegularFile.OpenRead(file) : null;
    }

    public IReadOnlyList<string> NamesBeginning(string start) => FileNames.IsPlain(start)
        ? [.. Directory.EnumerateFiles(path, start + "*").Select(f => Path.GetFileName(f)!).Where(n => n.StartsWith(start, StringComparison.Ordinal)).Order(StringComparer.Ordinal).Take(1000)]
        : [];
}

public static class FileNames
{
    /// <summary>What no plain name has in it, for whoever has to be told; some systems allow most of them.</summary>
    public const string Forbidden = "/ \\ : * ? \" < > |";

    private static readonly SearchValues<char> NotInNames = SearchValues.Create(Forbidden.Replace(" ", "", StringComparison.Ordinal));

    /// <summary>Whether a name is one of a file in the same folder: no separator, no drive, no parent, no wildcard, no control character.</summary>
    public static bool IsPlain(string name) =>
        name.Length is > 0 and <= 255 && name is not ("." or "..") && name.AsSpan().IndexOfAny(NotInNames) < 0 && !name.Any(char.IsControl);
}
