using Stillwatch.Formats.Exports;

namespace Stillwatch.Formats.Csv;

/// <summary>Tables of separated text, as one of the readers. Takes what no other reader recognises, and says in plain words what is wrong with it.</summary>
public sealed class CsvRecordingReader : IRecordingReader
{
    public string Formats => "separated text (CSV)";

    public IReadOnlyList<string> Extensions => [".csv", ".tsv", ".txt"];

    public bool Recognises(ReadOnlySpan<byte> head, string name) => true;

    public ReadResult Read(RecordingSource source, ReadOptions options)
    {
        var csv = options as CsvReadOptions ?? CsvReadOptions.Default with
        {
            Map = options.Map,
            Channel = options.Channel,
            Wanted = options.Wanted,
            SourceAveraging = options.SourceAveraging,
            Progress = options.Progress,
        };
        if (ExportedTable.TryRead(source, csv, out var issues) is { } exported) return exported;
        using var stream = source.Open();
        var result = CsvReader.Read(stream, source.Name, csv);
        return issues.Count == 0 ? result : result with { Issues = [.. issues.Concat(result.Issues).OrderByDescending(i => i.Severity)] };
    }
}
