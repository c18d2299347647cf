using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Edf.Writing;
using Stillwatch.Formats.Json;
using Stillwatch.Formats.Parquet;

namespace Stillwatch.Formats;

/// <summary>All writers, and the choice among them.</summary>
public static class RecordingWriters
{
    public static readonly IReadOnlyList<IRecordingWriter> All = [new CsvRecordingWriter(), new EdfRecordingWriter(), new BdfRecordingWriter(), new ParquetRecordingWriter(), new JsonRecordingWriter()];

    /// <summary>The writer for a file by its ending; null where there is none.</summary>
    public static IRecordingWriter? For(string fileName) => All.FirstOrDefault(w => fileName.EndsWith(w.Extension, StringComparison.OrdinalIgnoreCase));
}
