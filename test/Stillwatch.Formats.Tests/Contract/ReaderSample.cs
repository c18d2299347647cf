namespace Stillwatch.Formats.Tests.Contract;

/// <summary>A good recording to read and to damage.</summary>
/// <param name="Name">What it shows, for messages.</param>
/// <param name="FileName">The file that a user would name.</param>
/// <param name="Files">All its files.</param>
/// <param name="Boundaries">Where a part of the named file ends, in bytes from its beginning: each header field, each data record. Truncation is tried at all of them.</param>
public sealed record ReaderSample(string Name, string FileName, IReadOnlyDictionary<string, byte[]> Files, IReadOnlyList<int> Boundaries)
{
    public static ReaderSample Of(string name, string fileName, byte[] bytes, params int[] boundaries) =>
        new(name, fileName, new Dictionary<string, byte[]> { [fileName] = bytes }, boundaries);

    public byte[] Bytes => Files[FileName];

    public RecordingSource Source => new(FileName, new RecordingFolder(Files));

    /// <summary>The same recording with one file's bytes replaced.</summary>
    public ReaderSample With(string file, byte[] bytes) => this with { Files = Files.ToDictionary(f => f.Key, f => f.Key == file ? bytes : f.Value) };

    public override string ToString() => Name;
}
