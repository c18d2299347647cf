using Stillwatch.App.Files;
using Stillwatch.Signals;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Jobs;

/// <summary>A recording as read, with its file and what is known about it beyond the file.</summary>
/// <param name="File">Path, length and hash.</param>
/// <param name="Recording">The channels.</param>
/// <param name="Issues">What the reader met.</param>
/// <param name="Patient">The manifest's pseudonym, else the file's name.</param>
/// <param name="Category">From <c>--category</c>, else the manifest, else adult, assumed.</param>
/// <param name="Oxygen">From the manifest.</param>
/// <param name="IsInManifest">Whether a ward.json beside the file names it.</param>
/// <param name="Format">What the file is, in a few words.</param>
/// <param name="IsInvented">Whether that ward.json says that its data are invented.</param>
public sealed record LoadedRecording(
    InputFile File,
    Recording Recording,
    IReadOnlyList<ReadIssue> Issues,
    string Patient,
    CategoryChoice Category,
    OxygenStatus Oxygen,
    bool IsInManifest,
    bool IsInvented,
    string Format)
{
    /// <summary>The list of what the monitor itself signalled, where ward.json names one or one was stored with the recording.</summary>
    public AlarmLogFile? AlarmLog { get; init; }
}

/// <summary>A list of what the monitor itself signalled: a file, or the bytes that were stored of one.</summary>
/// <param name="Path">Where the file lies, or the name that it had.</param>
/// <param name="Content">Its bytes; null: they are read from <paramref name="Path"/>.</param>
public sealed record AlarmLogFile(string Path, byte[]? Content = null)
{
    /// <summary>The file's path; null where there are only bytes.</summary>
    public string? OnDisk => Content is null ? Path : null;

    public Stream Open() => Content is null ? InputFile.OpenRead(Path) : new MemoryStream(Content, writable: false);
}

/// <summary>A file that could not be read, and why.</summary>
public sealed record UnreadableFile(string Path, Commands.Trouble Trouble);
