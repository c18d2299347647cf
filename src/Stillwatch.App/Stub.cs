namespace Stillwatch.Formats { 
public sealed record ReadResult(Stillwatch.Signals.Recording? Recording, IReadOnlyList<Stillwatch.Signals.ReadIssue> Issues);
public sealed class UnreadableFileException(string found, string expected, string where, string likelyCause, Exception? inner = null) : Exception(found, inner) { public string Found => found; public string Expected => expected; public string Where=>where; public string LikelyCause=>likelyCause; } }
namespace Stillwatch.Formats.Csv {
public sealed class CsvColumnMap { public static readonly CsvColumnMap Empty = new(); public static CsvColumnMap Parse(string s) => Empty; }
public sealed record CsvReadOptions { public static readonly CsvReadOptions Default = new(); public CsvColumnMap Map {get;init;} = CsvColumnMap.Empty; public string? Channel {get;init;} public Stillwatch.Signals.SourceAveraging SourceAveraging {get;init;} = Stillwatch.Signals.SourceAveraging.Unknown; }
public static class CsvReader { public static ReadResult Read(Stream s, string name, CsvReadOptions o) => throw new InvalidOperationException(); } }
