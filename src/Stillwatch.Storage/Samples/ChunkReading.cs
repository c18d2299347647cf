using Stillwatch.Time;

namespace Stillwatch.Storage.Samples;

/// <summary>From a row of a table to what it holds, checked before it is believed.</summary>
internal static class ChunkReading
{
    /// <exception cref="InvalidDataException">A chunk before it is missing.</exception>
    public static void InTurn(ChunkRow chunk, int expected)
    {
        if (chunk.Chunk != expected) throw new InvalidDataException($"chunk {expected} is missing");
    }

    /// <exception cref="InvalidDataException">It is damaged.</exception>
    public static ReadOnlySpan<int> Samples(Packing packing, ChunkRow chunk, int[] samples)
    {
        chunk.Check(ChunkContent.Samples);
        var read = samples.AsSpan(0, Rows(chunk));
        SampleCodec.Read(packing.Unpack(chunk.Content, SampleCodec.MostBytes), read);
        return read;
    }

    /// <exception cref="InvalidDataException">It is damaged.</exception>
    public static ReadOnlySpan<long> Times(Packing packing, ChunkRow chunk, long[] times)
    {
        chunk.Check(ChunkContent.Times);
        var read = times.AsSpan(0, Rows(chunk));
        TimeCodec.Read(packing.Unpack(chunk.Content, TimeCodec.MostBytes), chunk.FirstMilliseconds, read);
        return read;
    }

    /// <exception cref="InvalidDataException">It is damaged.</exception>
    public static PyramidEntry[] Entries(Packing packing, ChunkRow chunk)
    {
        chunk.Check(ChunkContent.Entries);
        return PyramidCodec.Read(packing.Unpack(chunk.Content, PyramidCodec.MostBytes), chunk.RowCount);
    }

    /// <exception cref="InvalidDataException">It says that it holds more rows than a chunk can, or fewer than none.</exception>
    public static int Rows(ChunkRow chunk) => chunk.RowCount is >= 0 and <= TimeAxis.ChunkLength
        ? chunk.RowCount
        : throw new InvalidDataException($"the chunk says that it holds {chunk.RowCount} rows");
}
