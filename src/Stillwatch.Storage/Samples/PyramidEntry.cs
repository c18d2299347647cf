namespace Stillwatch.Storage.Samples;

/// <summary>The least and greatest sample of one stretch of time that holds a number at all.</summary>
/// <param name="Bin">Which stretch: its start, counted from the axis' first time in lengths of the level.</param>
/// <param name="Least">In millionths or counts, as the channel holds them.</param>
/// <param name="Greatest">Likewise.</param>
/// <param name="Rows">Rows with a number.</param>
internal readonly record struct PyramidEntry(long Bin, int Least, int Greatest, int Rows);

/// <summary>Entries of one level, in order, as they are stored together.</summary>
/// <param name="Level">From 1.</param>
/// <param name="Chunk">From 0 within the level.</param>
/// <param name="Entries">Not empty.</param>
internal sealed record PyramidChunk(int Level, int Chunk, IReadOnlyList<PyramidEntry> Entries);

/// <summary>Entries as bytes.</summary>
internal static class PyramidCodec
{
    public const int MostEntries = 8192;

    public const int MostBytes = MostEntries * 4 * VarInts.MostBytes;

    public static int Write(IReadOnlyList<PyramidEntry> entries, Span<byte> to)
    {
        int at = 0;
        var previous = default(PyramidEntry);
        foreach (var entry in entries)
        {
            at += VarInts.Write(to[at..], (ulong)(entry.Bin - previous.Bin));
            at += VarInts.WriteSigned(to[at..], (long)entry.Least - previous.Least);
            at += VarInts.Write(to[at..], (ulong)((long)entry.Greatest - entry.Least));
            at += VarInts.Write(to[at..], (ulong)entry.Rows);
            previous = entry;
        }

        return at;
    }

    /// <exception cref="InvalidDataException">The bytes do not hold that many entries.</exception>
    public static PyramidEntry[] Read(ReadOnlySpan<byte> content, int count)
    {
        if (count is < 0 or > MostEntries) throw new InvalidDataException($"the chunk says that it holds {count} entries");
        var entries = new PyramidEntry[count];
        int at = 0;
        var previous = default(PyramidEntry);
        for (int i = 0; i < count; i++)
        {
            try
            {
                long bin = previous.Bin + (long)VarInts.Read(content, ref at);
                int least = (int)(previous.Least + VarInts.ReadSigned(content, ref at));
                int greatest = (int)(least + (long)VarInts.Read(content, ref at));
                previous = entries[i] = new PyramidEntry(bin, least, greatest, VarInts.ReadCount(content, ref at));
            }
            catch (OverflowException e)
            {
                throw new InvalidDataException("an entry is out of range", e);
            }
        }

        if (at != content.Length) throw new InvalidDataException("the chunk holds more entries than it says");
        return entries;
    }
}
