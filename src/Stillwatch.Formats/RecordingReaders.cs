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

    /// <summary>
    /// The recordings among a folder's files, in the order given: by their ending, by their first bytes where files that are none bear the same,
    /// and without those that are parts of another.
    /// </summary>
    public static IReadOnlyList<string> RecordingsAmong(IRecordingFolder folder, IEnumerable<string> names)
    {
        var found = names.Where(n => IsRecording(new RecordingSource(n, folder))).ToList();
        var parts = found.SelectMany(n => All.Where(r => r.Extensions.Contains(EndingOf(n))).SelectMany(r => r.PartsOf(new RecordingSource(n, folder)))).ToHashSet();
        return [.. found.Where(n => !parts.Contains(n))];
    }

    private static bool IsRecording(RecordingSource source)
    {
        string ending = EndingOf(source.Name);
        if (!Extensions.Contains(ending)) return false;
        try
        {
            return ending != ".json" || JsonRecordingReader.IsRecording(HeadOf(source));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return true; // why it cannot be read is said where it is read
        }
    }

    private static string EndingOf(string name) => Path.GetExtension(name).ToLowerInvariant();

    private static ReadOnlySpan<byte> HeadOf(RecordingSource source)
    {
        byte[] head = new byte[4096];
        using var stream = source.Open();
        return head.AsSpan(0, stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false));
    }
}
