using System.Buffers.Binary;
using System.IO.Compression;

namespace Stillwatch.Formats.Parquet;

/// <summary>Reads the pages of a Parquet file, none larger than a row group of ours can be.</summary>
internal sealed class ParquetPages(Stream stream, string name, long dataEnd)
{
    // Levels take two bytes a row at worst, a value eight.
    private const int LargestPage = ParquetLayout.RowsPerGroup * 10 + 64;
    private const int LongestHeader = 256;

    private readonly byte[] header = new byte[LongestHeader];

    /// <summary>The one value of a constant column.</summary>
    public byte[] Constant(ParquetChunk chunk, int rows)
    {
        byte[] value = Page(chunk.Dictionary, ParquetLayout.DictionaryPage, 1);
        byte[] indices = Page(chunk.Data, ParquetLayout.DataPage, rows);
        int at = 1;
        if (indices.Length == 0 || indices[0] != 1 || Run(indices, ref at, chunk.Data) != (rows, 0) || at != indices.Length)
            throw Wrong(chunk.Data, "several values in a column", "one for all rows of a row group");
        return value;
    }

    public long[] Times(ParquetChunk chunk, int rows)
    {
        byte[] page = Page(chunk.Data, ParquetLayout.DataPage, rows);
        if (page.Length != rows * 8) throw Wrong(chunk.Data, $"{page.Length} bytes of times", $"{rows * 8}");
        var times = new long[rows];
        for (int i = 0; i < rows; i++) times[i] = BinaryPrimitives.ReadInt64LittleEndian(page.AsSpan(i * 8));
        return times;
    }

    /// <summary>Numbers of an optional column, 8 (a double's bits) or 4 bytes wide; null: none.</summary>
    public long?[] Numbers(ParquetChunk chunk, int rows, int width)
    {
        byte[] page = Page(chunk.Data, ParquetLayout.DataPage, rows);
        if (page.Length < 4) throw Wrong(chunk.Data, $"a page of {page.Length} bytes", "levels and values");
        int levels = BinaryPrimitives.ReadInt32LittleEndian(page);
        if (levels < 0 || levels > page.Length - 4) throw Wrong(chunk.Data, $"levels of {levels} bytes in a page of {page.Length}", "levels that fit");
        var numbers = new long?[rows];
        int at = 4, value = 4 + levels, row = 0;
        while (row < rows)
        {
            if (at >= 4 + levels) throw Wrong(chunk.Data, $"levels of {row} rows", $"{rows}");
            var (length, level) = Run(page, ref at, chunk.Data);
            if (length > rows - row || level is not (0 or 1)) throw Wrong(chunk.Data, $"a run of {length} rows at level {level}", $"at most {rows - row}, at level 0 or 1");
            if (level == 1 && page.Length - value < length * width) throw Wrong(chunk.Data, "fewer values than rows that have one", "one for each");
            for (int i = 0; i < length; i++, row++)
            {
                if (level == 0) continue;
                numbers[row] = width == 8 ? BinaryPrimitives.ReadInt64LittleEndian(page.AsSpan(value)) : BinaryPrimitives.ReadInt32LittleEndian(page.AsSpan(value));
                value += width;
            }
        }

        if (at != 4 + levels || value != page.Length) throw Wrong(chunk.Data, "more levels or values than rows", $"{rows} rows");
        return numbers;
    }

    private (int Length, int Value) Run(byte[] page, ref int at, long offset)
    {
        uint head = 0;
        for (int shift = 0; ; shift += 7)
        {
            if (at >= page.Length || shift > 21) throw Wrong(offset, "a run without its end", "runs of levels");
            byte part = page[at++];
            head |= (uint)(part & 0x7F) << shift;
            if (part < 0x80) break;
        }

        if ((head & 1) != 0 || head == 0 || at >= page.Length) throw Wrong(offset, "levels that are not in runs", "runs of levels");
        return ((int)(head >> 1), page[at++]);
    }

    private byte[] Page(long offset, int kind, int values)
    {
        if (offset < 4 || offset >= dataEnd) throw Wrong(offset, $"a page at byte {offset}", $"one before byte {dataEnd}");
        stream.Seek(offset, SeekOrigin.Begin);
        int length = (int)Math.Min(LongestHeader, dataEnd - offset);
        stream.ReadExactly(header, 0, length);
        var thrift = new CompactThriftReader(header, length);
        int type = -1, uncompressed = -1, compressed = -1, rows = -1, encoding = -1;
        try
        {
            thrift.Struct((field, kindOf) =>
            {
                if (field == 1 && kindOf == ThriftType.I32) type = thrift.I32();
                else if (field == 2 && kindOf == ThriftType.I32) uncompressed = thrift.I32();
                else if (field == 3 && kindOf == ThriftType.I32) compressed = thrift.I32();
                else if (field is 5 or 7 && kindOf == ThriftType.Struct)
                {
                    thrift.Struct((inner, innerKind) =>
                    {
                        if (innerKind != ThriftType.I32 || inner is not (1 or 2)) return false;
                        if (inner == 1) rows = thrift.I32();
                        else encoding = thrift.I32();
                        return true;
                    });
                }
                else return false;
                return true;
            });
        }
        catch (FormatException e)
        {
            throw Wrong(offset, e.Message, "the header of a page", e);
        }

        if (type != kind || rows != values || encoding is not (ParquetLayout.Plain or ParquetLayout.RleDictionary))
            throw Wrong(offset, $"a page of kind {type}, encoding {encoding}, with {rows} values", $"kind {kind} with {values}");
        if (uncompressed < 0 || uncompressed > LargestPage || compressed < 1 || compressed > dataEnd - offset - thrift.Position)
            throw Wrong(offset, $"a page of {compressed} bytes that is to unfold to {uncompressed}", $"one that fits into the file and unfolds to at most {LargestPage}");
        stream.Seek(offset + thrift.Position, SeekOrigin.Begin);
        byte[] packed = new byte[compressed];
        stream.ReadExactly(packed);
        return Unfold(packed, uncompressed, offset);
    }

    private byte[] Unfold(byte[] packed, int size, long offset)
    {
        byte[] content = new byte[size];
        try
        {
            using var gzip = new GZipStream(new MemoryStream(packed, writable: false), CompressionMode.Decompress);
            int read = gzip.ReadAtLeast(content, size, throwOnEndOfStream: false);
            if (read == size && gzip.ReadByte() < 0) return content;
            throw Wrong(offset, read == size ? $"a page that unfolds to more than {size} bytes" : $"a page that unfolds to {read} bytes", $"{size}");
        }
        catch (Exception e) when (e is InvalidDataException or IOException)
        {
            throw Wrong(offset, "a page that gzip cannot unfold", "a whole gzip page", e);
        }
    }

    private UnreadableFileException Wrong(long offset, string found, string expected, Exception? inner = null) =>
        new(found, expected, $"{name}, byte {offset + 1}", "the file is damaged, or another program wrote it", inner);
}
