using Microsoft.Win32.SafeHandles;

namespace Stillwatch.Formats.Edf.Records;

/// <summary>Reads pieces of a file at rising positions, ahead of the next piece or just the piece itself.</summary>
/// <param name="stream">Seekable.</param>
/// <param name="name">The file, for messages.</param>
/// <param name="readsAhead">Where the pieces lie close together: one long read is cheaper than many short ones.</param>
internal sealed class ByteWindow(Stream stream, string name, bool readsAhead)
{
    /// <summary>The longest piece of samples that is asked for at once; a multiple of a sample's 2 or 3 bytes.</summary>
    public const int PieceBytes = 3 << 14;

    // Small enough to stay in a core's own cache, long enough that the calls do not matter.
    private const int AheadBytes = 1 << 18;

    // Enough for the disk to be busy while the last ones are decoded.
    private const long AdvisedBytes = 1 << 23;

    private readonly long fileBytes = stream.Length;

    // Asked for once: each asking moves the file's own position, a call into the system.
    private readonly SafeFileHandle? handle = (stream as FileStream)?.SafeFileHandle;
    private byte[] buffer = [];
    private long advisedTo;
    private long start;
    private int length;

    /// <summary>The bytes from a position on. Valid until the next call.</summary>
    /// <exception cref="UnreadableFileException">The file has become shorter since it was opened.</exception>
    public ReadOnlySpan<byte> Read(long position, int count)
    {
        if (position < start || position + count > start + length) Fill(position, count);
        return buffer.AsSpan((int)(position - start), count);
    }

    private void Fill(long position, int count)
    {
        if (!readsAhead && handle is not null) Advise(position);
        int wanted = readsAhead ? (int)Math.Min(Math.Max(count, AheadBytes), Math.Max(count, fileBytes - position)) : count;
        if (buffer.Length < wanted) buffer = GC.AllocateUninitializedArray<byte>(wanted);
        length = ReadAt(position, buffer.AsSpan(0, wanted));
        start = position;
        if (length >= count) return;
        throw new UnreadableFileException($"{position + length} bytes", $"{position + count} bytes, as when it was opened", name, "the file was changed while it was read");
    }

    private void Advise(long position)
    {
        if (position + AdvisedBytes / 2 < advisedTo) return;
        long from = Math.Max(position, advisedTo);
        ReadAdvice.Soon(handle!, from, AdvisedBytes);
        advisedTo = from + AdvisedBytes;
    }

    private int ReadAt(long position, Span<byte> to)
    {
        if (handle is null)
        {
            stream.Position = position;
            return stream.ReadAtLeast(to, to.Length, throwOnEndOfStream: false);
        }

        // Past the stream's own buffer, which would read 64 KB around every piece.
        int done = 0;
        while (done < to.Length && RandomAccess.Read(handle, to[done..], position + done) is > 0 and var got) done += got;
        return done;
    }
}
