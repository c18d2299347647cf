namespace Stillwatch.Formats;

/// <summary>
/// Reads recordings of one family of formats. All readers sit the same test: nothing crashes, hangs, grows without bound or is
/// repaired silently, whatever the bytes; a file that cannot be read at all is an <see cref="UnreadableFileException"/>, everything else odd an issue.
/// </summary>
public interface IRecordingReader
{
    /// <summary>The family, as a person would name it: "EDF and BDF".</summary>
    string Formats { get; }

    /// <summary>Endings of the files by which a folder's recordings are found, with the dot: ".edf".</summary>
    IReadOnlyList<string> Extensions { get; }

    /// <summary>Whether a file is one of this family, by its first bytes (up to 4096) and its name; never by the name alone where bytes can tell.</summary>
    bool Recognises(ReadOnlySpan<byte> head, string name);

    /// <summary>Files beside it that are parts of this recording, although they look like recordings of their own; none for most formats.</summary>
    IReadOnlyList<string> PartsOf(RecordingSource source) => [];

    /// <exception cref="UnreadableFileException">The file cannot be read, or a signal that was asked for is not in it.</exception>
    ReadResult Read(RecordingSource source, ReadOptions options);
}
