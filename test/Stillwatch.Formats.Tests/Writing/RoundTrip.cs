using System.Security.Cryptography;
using Stillwatch.Formats.Exports;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Tests.Writing;

/// <summary>Writes a recording as export does, with its manifest beside it, and reads it back by the road that every command takes.</summary>
internal static class RoundTrip
{
    public static ReadResult Of(IRecordingWriter writer, Recording recording, ReadOptions? options = null)
    {
        var (name, files) = Files(writer, recording);
        return RecordingReaders.Read(new RecordingSource(name, new RecordingFolder(files)), options ?? new ReadOptions());
    }

    public static byte[] Bytes(IRecordingWriter writer, Recording recording)
    {
        using var to = new MemoryStream();
        writer.Write(recording, to);
        return to.ToArray();
    }

    public static (string Name, Dictionary<string, byte[]> Files) Files(IRecordingWriter writer, Recording recording)
    {
        string name = "night" + writer.Extension;
        byte[] bytes = Bytes(writer, recording);
        var manifest = new ExportManifest
        {
            Software = "Stillwatch, a test",
            Inputs = [],
            Output = new ExportedFile(name, Convert.ToHexStringLower(SHA256.HashData(bytes)), bytes.Length),
            OutputFormat = writer.Format,
            Recording = recording,
            Issues = [],
            Caution = "invented",
        };
        using var beside = new MemoryStream();
        manifest.Write(beside);
        return (name, new Dictionary<string, byte[]> { [name] = bytes, [name + ExportManifest.Suffix] = beside.ToArray() });
    }
}
