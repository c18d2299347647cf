namespace Stillwatch.Formats.Tests.Contract;

/// <summary>Hands files out a few bytes at a time, as a slow share or a pipe does.</summary>
internal sealed class DribblingFolder(IReadOnlyDictionary<string, byte[]> files, int most) : IRecordingFolder
{
    private readonly RecordingFolder folder = new(files);

    public Stream? TryOpen(string name) => files.TryGetValue(name, out byte[]? bytes) ? new Dribble(bytes, most) : null;

    public IReadOnlyList<string> NamesBeginning(string start) => folder.NamesBeginning(start);

    private sealed class Dribble(byte[] bytes, int most) : MemoryStream(bytes, writable: false)
    {
        private int turn;

        public override int Read(byte[] buffer, int offset, int count) => base.Read(buffer, offset, Math.Min(count, Next()));

        public override int Read(Span<byte> buffer) => base.Read(buffer[..Math.Min(buffer.Length, Next())]);

        private int Next() => 1 + (turn++ % most);
    }
}
