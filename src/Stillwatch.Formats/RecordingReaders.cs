using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Edf;
using Stillwatch.Formats.Json;
using Stillwatch.Formats.Parquet;
using Stillwatch.Formats.Wfdb;

namespace Stillwatch.Formats;

/// <summary>All readers, and the choice among them.</summary>
public static class RecordingReaders
{
    /// <summary>Those that tell by bytes first; separated text, which takes anything, last.</summary>
    public static readonly IReadOnlyList<IRecordingReader> All = [new EdfRecordingReader(), new WfdbRecordingReader(), new ParquetRecordingReader(), new JsonRecordingReader(), new CsvRecordingReader()];

    /// <summary>The endings by which a folder's recordings are found.</summary>
    public static readonly IReadOnlyList<string> Extensions = [.. All.SelectMany(r => r.Extensions).Distinct()];

    /// <summary>Reads a file of any format.</summary>
    /// <exception cref="UnreadableFileException">It cannot be read, or a signal that was asked for is not in it.</exception>
    public static ReadResult Read(RecordingSource source, ReadOptions options)
    {
        var head = HeadOf(source);
        foreach (var reader in All)
        {
            if (reader.Recognises(head, source.Name)) return reader.Read(source, options);
        }

        throw new InvalidOperationException("No reader takes the file; the last is to take anything.");
    }

    /// <summary>Whether a file found in a folder is a recording: by its ending, and by its first bytes where files that are none bear the same.</summary>
    public static bool IsRecordingOfFolder(RecordingSource source)
    {
        string extension = Path.GetExtension(source.Name).ToLowerInvariant();
        return Extensions.Contains(extension) && (extension != ".json" || JsonRecordingReader.IsRecording(HeadOf(source)));
    }

    private static ReadOnlySpan<byte> HeadOf(RecordingSource source)
    {
        byte[] head = new byte[4096];
        using var stream = source.Open();
        return head.AsSpan(0, stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false));
    }
}
