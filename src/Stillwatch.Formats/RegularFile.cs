namespace Stillwatch.Formats;

/// <summary>Opens files only to read them, while others may go on writing them.</summary>
public static class RegularFile
{
    /// <summary>The file's bytes. A file without a length is not opened but read as empty: a pipe would wait for ever, and a device may never end.</summary>
    /// <exception cref="IOException">It is gone, or cannot be opened; a chain of links leads round in a circle.</exception>
    /// <exception cref="UnauthorizedAccessException">Access is refused, or it is a folder.</exception>
    public static Stream OpenRead(string path)
    {
        var file = new FileInfo(path);
        if (file.ResolveLinkTarget(returnFinalTarget: true) is FileInfo target) file = target;
        return file is { Exists: true, Length: 0 }
            ? new MemoryStream([], writable: false)
            : new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete, 1 << 16, FileOptions.SequentialScan);
    }
}
