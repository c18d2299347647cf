using Stillwatch.Formats;

namespace Stillwatch.App.Files;

/// <summary>A folder on disk that keeps in mind which of its files were read, so that each can be hashed.</summary>
internal sealed class NotingFolder(string path) : IRecordingFolder
{
    private readonly DiskFolder folder = new(path);
    private readonly List<string> opened = [];

    /// <summary>In the order in which they were first opened.</summary>
    public IReadOnlyList<string> Opened => opened;

    public Stream? TryOpen(string name)
    {
        var stream = folder.TryOpen(name);
        if (stream is not null && !opened.Contains(name)) opened.Add(name);
        return stream;
    }

    public IReadOnlyList<string> NamesBeginning(string start) => folder.NamesBeginning(start);
}
