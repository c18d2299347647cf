namespace Stillwatch.Storage.Backup;

/// <summary>The lines of a part, each after the other in one buffer that grows with the longest line there is, and never past the limit.</summary>
internal sealed class LineReading(Stream from, int mostBytes)
{
    private byte[] buffer = new byte[1 << 16];
    private int start;
    private int end;

    /// <summary>The next line without its end, valid until the next call; null after the last.</summary>
    /// <exception cref="InvalidDataException">A line is longer than the limit, or the last has no end.</exception>
    public async Task<ReadOnlyMemory<byte>?> NextAsync(CancellationToken cancellation)
    {
        int looked = start;
        while (true)
        {
            int at = buffer.AsSpan(looked, end - looked).IndexOf((byte)'\n');
            if (at >= 0)
            {
                var line = buffer.AsMemory(start, looked + at - start);
                start = looked + at + 1;
                return line;
            }

            looked = end;
            if (start > 0)
            {
                Buffer.BlockCopy(buffer, start, buffer, 0, end - start);
                (looked, end, start) = (looked - start, end - start, 0);
            }

            if (end == buffer.Length)
            {
                if (buffer.Length >= mostBytes) throw new InvalidDataException($"a line of more than {mostBytes} bytes");
                Array.Resize(ref buffer, (int)Math.Min(2L * buffer.Length, mostBytes));
            }

            int read = await from.ReadAsync(buffer.AsMemory(end), cancellation).ConfigureAwait(false);
            if (read == 0) return end == start ? null : throw new InvalidDataException("a last line without an end");
            end += read;
        }
    }
}
