using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Edf;
using Stillwatch.Formats.Wfdb;

namespace Stillwatch.Formats;

/// <summary>All readers, and the choice among them.</summary>
public static class RecordingReaders
{
    /// <summary>Those that tell by bytes first; separated text, which takes anything, last.</summary>
    public static readonly IReadOnlyList<IRecordingReader> All = [new EdfRecordingReader(), new WfdbRecordingReader(), new CsvRecordingReader()];

    /// <summary>The endings by which a folder's recordings are found.</summary>
    public static readonly IReadOnlyList<string> Extensions = [.. All.SelectMany(r => r.Extensions).Distinct()];

    /// <summary>Reads a file of any format.</summary>
    /// <exception cref="UnreadableFileException">It cannot be read, or a signal that was asked for is not in it.</exception>
    public static ReadResult Read(RecordingSource source, ReadOptions options)
    {
        byte[] head = new byte[4096];
        int length;
        using (var stream = source.Open()) length = stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        return All.First(r => r.Recognises(head.AsSpan(0, length), source.Name)).Read(source, options);
    }
}
