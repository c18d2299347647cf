using System.Buffers.Binary;

namespace Stillwatch.Formats.Parquet;

/// <summary>Where a column of a row group lies in the file.</summary>
/// <param name="Dictionary">Offset of its dictionary page; 0 without one.</param>
/// <param name="Data">Offset of its data page.</param>
internal sealed record ParquetChunk(long Dictionary, long Data);

/// <param name="Rows">As claimed.</param>
/// <param name="Columns">In the order of <see cref="ParquetLayout.Columns"/>.</param>
internal sealed record ParquetRowGroup(long Rows, IReadOnlyList<ParquetChunk> Columns);

/// <summary>The footer of a Parquet file as <see cref="ParquetRecordingWriter"/> lays it out; anything else is refused in plain words.</summary>
/// <param name="Recording">The JSON under <see cref="ParquetLayout.MetadataKey"/>.</param>
/// <param name="Groups">Row groups in file order.</param>
/// <param name="DataEnd">Where the footer begins.</param>
internal sealed record ParquetFooter(ReadOnlyMemory<byte> Recording, IReadOnlyList<ParquetRowGroup> Groups, long DataEnd)
{
    private const int LargestFooter = 1 << 28;

    /// <exception cref="UnreadableFileException">No Parquet, cut off, or not laid out as our exports.</exception>
    public static ParquetFooter Read(Stream stream, string name)
    {
        long length = stream.Length;
        if (length < 12) throw new UnreadableFileException($"{length} bytes", "a whole Parquet file", name, "the file was cut off");
        byte[] tail = new byte[8];
        stream.Seek(length - 8, SeekOrigin.Begin);
        stream.ReadExactly(tail);
        if (!tail.AsSpan(4).SequenceEqual(ParquetLayout.Magic)) throw new UnreadableFileException("an end that is not PAR1", "the end of a Parquet file", $"{name}, byte {length - 3}", "the file was cut off");
        int size = BinaryPrimitives.ReadInt32LittleEndian(tail);
        if (size < 1 || size > length - 12 || size > LargestFooter)
            throw new UnreadableFileException($"a footer of {size} bytes in a file of {length}", "one that fits", $"{name}, byte {length - 7}", "the file is damaged");
        byte[] footer = new byte[size];
        long start = length - 8 - size;
        stream.Seek(start, SeekOrigin.Begin);
        stream.ReadExactly(footer);
        var thrift = new CompactThriftReader(footer, size);
        try
        {
            return Read(thrift, start);
        }
        catch (FormatException e)
        {
            throw new UnreadableFileException(e.Message, "a footer as stillwatch export writes it", $"{name}, byte {start + thrift.Position}",
                "another program wrote the file, or it is damaged; from other Parquet files, write a table as CSV first", e);
        }
    }

    private static ParquetFooter Read(CompactThriftReader thrift, long dataEnd)
    {
        var schema = new List<(string Name, int Type, int Repetition)>();
        var groups = new List<ParquetRowGroup>();
        ReadOnlyMemory<byte>? recording = null;
        thrift.Struct((field, type) =>
        {
            switch (field, type)
            {
                case (2, ThriftType.List):
                    thrift.List(ThriftType.Struct, () => schema.Add(Element(thrift)));
                    return true;
                case (4, ThriftType.List):
                    thrift.List(ThriftType.Struct, () => groups.Add(Group(thrift)));
                    return true;
                case (5, ThriftType.List):
                    thrift.List(ThriftType.Struct, () => recording = KeyValue(thrift) ?? recording);
                    return true;
                default:
                    return false;
            }
        });
        var expected = ParquetLayout.Columns.Select(c => (c.Name, c.Type, c.IsOptional ? 1 : 0));
        if (recording is not { } text) throw new FormatException($"no metadata \"{ParquetLayout.MetadataKey}\"");
        if (!schema.Skip(1).SequenceEqual(expected)) throw new FormatException("the columns " + IssueLog.Show(string.Join(", ", schema.Skip(1).Select(s => s.Name))));
        return new ParquetFooter(text, groups, dataEnd);
    }

    private static (string Name, int Type, int Repetition) Element(CompactThriftReader thrift)
    {
        string name = "";
        int type = -1, repetition = -1;
        thrift.Struct((field, kind) =>
        {
            if (field == 1 && kind == ThriftType.I32) type = thrift.I32();
            else if (field == 3 && kind == ThriftType.I32) repetition = thrift.I32();
            else if (field == 4 && kind == ThriftType.Binary) name = thrift.Text();
            else return false;
            return true;
        });
        return (name, type, repetition);
    }

    private static ParquetRowGroup Group(CompactThriftReader thrift)
    {
        long rows = -1;
        var columns = new List<ParquetChunk>();
        thrift.Struct((field, type) =>
        {
            if (field == 1 && type == ThriftType.List) thrift.List(ThriftType.Struct, () => columns.Add(Chunk(thrift)));
            else if (field == 3 && type == ThriftType.I64) rows = thrift.ZigZag();
            else return false;
            return true;
        });
        return columns.Count == ParquetLayout.Columns.Count && rows is > 0 and <= ParquetLayout.RowsPerGroup
            ? new ParquetRowGroup(rows, columns)
            : throw new FormatException($"a row group of {columns.Count} columns and {rows} rows");
    }

    private static ParquetChunk Chunk(CompactThriftReader thrift)
    {
        long dictionary = 0, data = 0;
        int codec = -1;
        thrift.Struct((field, type) =>
        {
            if (field != 3 || type != ThriftType.Struct) return false;
            thrift.Struct((inner, kind) =>
            {
                if (inner == 4 && kind == ThriftType.I32) codec = thrift.I32();
                else if (inner == 9 && kind == ThriftType.I64) data = thrift.ZigZag();
                else if (inner == 11 && kind == ThriftType.I64) dictionary = thrift.ZigZag();
                else return false;
                return true;
            });
            return true;
        });
        return codec == ParquetLayout.Gzip ? new ParquetChunk(dictionary, data) : throw new FormatException($"compression number {codec}, expected gzip");
    }

    private static ReadOnlyMemory<byte>? KeyValue(CompactThriftReader thrift)
    {
        string key = "";
        ReadOnlyMemory<byte>? value = null;
        thrift.Struct((field, type) =>
        {
            if (type != ThriftType.Binary || field is not (1 or 2)) return false;
            if (field == 1) key = thrift.Text();
            else value = thrift.Binary();
            return true;
        });
        return key == ParquetLayout.MetadataKey ? value : null;
    }
}
