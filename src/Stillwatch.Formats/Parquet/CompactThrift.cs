using System.Buffers;
using System.Text;

namespace Stillwatch.Formats.Parquet;

/// <summary>Types of fields in Thrift's compact protocol, by which Parquet writes its headers (Apache Thrift, "Thrift compact protocol encoding").</summary>
internal enum ThriftType : byte
{
    Stop = 0,
    True = 1,
    False = 2,
    Byte = 3,
    I16 = 4,
    I32 = 5,
    I64 = 6,
    Double = 7,
    Binary = 8,
    List = 9,
    Set = 10,
    Map = 11,
    Struct = 12,
}

/// <summary>Writes structures in Thrift's compact protocol.</summary>
internal sealed class CompactThriftWriter
{
    private readonly ArrayBufferWriter<byte> bytes = new();
    private readonly Stack<int> outerFields = new();
    private int lastField;

    public ReadOnlySpan<byte> Written => bytes.WrittenSpan;

    public void I32(int field, int value)
    {
        Header(field, ThriftType.I32);
        ZigZag(value);
    }

    public void I64(int field, long value)
    {
        Header(field, ThriftType.I64);
        ZigZag(value);
    }

    public void Text(int field, string text)
    {
        Header(field, ThriftType.Binary);
        Binary(Encoding.UTF8.GetBytes(text));
    }

    public void Struct(int field, Action content)
    {
        Header(field, ThriftType.Struct);
        Element(content);
    }

    public void List(int field, ThriftType of, int count)
    {
        Header(field, ThriftType.List);
        if (count < 15)
        {
            Put((byte)(count << 4 | (int)of));
            return;
        }

        Put((byte)(0xF0 | (int)of));
        Varint((ulong)count);
    }

    /// <summary>A structure that is an element of a list, or the outermost one.</summary>
    public void Element(Action content)
    {
        outerFields.Push(lastField);
        lastField = 0;
        content();
        Put((byte)ThriftType.Stop);
        lastField = outerFields.Pop();
    }

    /// <summary>An element of a list of whole numbers.</summary>
    public void ZigZag(long value) => Varint((ulong)(value << 1 ^ value >> 63));

    /// <summary>An element of a list of texts.</summary>
    public void Binary(byte[] value)
    {
        Varint((ulong)value.Length);
        bytes.Write(value);
    }

    private void Put(byte value) => bytes.Write([value]);

    private void Header(int field, ThriftType type)
    {
        int step = field - lastField;
        lastField = field;
        Put((byte)(step << 4 | (int)type)); // ours never skip more than 15
    }

    private void Varint(ulong value)
    {
        for (; value >= 0x80; value >>= 7) Put((byte)(value & 0x7F | 0x80));
        Put((byte)value);
    }
}

/// <summary>
/// Reads structures in Thrift's compact protocol from bytes that are taken to be hostile: nothing is allocated by a claimed size, and nesting
/// is bounded. What cannot be is a <see cref="FormatException"/>.
/// </summary>
internal sealed class CompactThriftReader(byte[] bytes, int end)
{
    private const int DepthLimit = 16;

    private int depth;

    public int Position { get; private set; }

    /// <summary>Reads a structure; each field is handed over with its number and type, and what is not read by <paramref name="field"/> (false) is passed over.</summary>
    public void Struct(Func<int, ThriftType, bool> field)
    {
        if (++depth > DepthLimit) throw new FormatException($"structures nested more than {DepthLimit} deep");
        int last = 0;
        while (true)
        {
            byte head = Byte();
            var type = (ThriftType)(head & 0x0F);
            if (type == ThriftType.Stop) break;
            int step = head >> 4;
            long id = step > 0 ? last + step : ZigZag();
            if (id is < 0 or > short.MaxValue) throw new FormatException($"a field numbered {id}");
            last = (int)id;
            if (!field(last, type)) Skip(type);
        }

        depth--;
    }

    /// <summary>Reads a list; each element is read by <paramref name="element"/>.</summary>
    public void List(ThriftType of, Action element)
    {
        byte head = Byte();
        ulong count = (ulong)(head >> 4);
        if (count == 15) count = Varint();
        if ((ThriftType)(head & 0x0F) != of) throw new FormatException($"a list of type {head & 0x0F}");
        if (count > (ulong)(end - Position)) throw new FormatException($"a list of {count} elements in {end - Position} bytes");
        for (ulong i = 0; i < count; i++) element();
    }

    public long ZigZag()
    {
        ulong raw = Varint();
        return (long)(raw >> 1) ^ -(long)(raw & 1);
    }

    public int I32()
    {
        long value = ZigZag();
        return value is >= int.MinValue and <= int.MaxValue ? (int)value : throw new FormatException($"the number {value}");
    }

    public ReadOnlyMemory<byte> Binary()
    {
        ulong length = Varint();
        if (length > (ulong)(end - Position)) throw new FormatException($"a text of {length} bytes with {end - Position} left");
        var value = bytes.AsMemory(Position, (int)length);
        Position += (int)length;
        return value;
    }

    public string Text() => Encoding.UTF8.GetString(Binary().Span);

    private void Skip(ThriftType type)
    {
        switch (type)
        {
            case ThriftType.True or ThriftType.False:
                break;
            case ThriftType.Byte:
                Byte();
                break;
            case ThriftType.I16 or ThriftType.I32 or ThriftType.I64:
                Varint();
                break;
            case ThriftType.Double:
                for (int i = 0; i < 8; i++) Byte();
                break;
            case ThriftType.Binary:
                Binary();
                break;
            case ThriftType.Struct:
                Struct((_, _) => false);
                break;
            case ThriftType.List or ThriftType.Set:
                SkipList();
                break;
            default:
                throw new FormatException($"a field of type {(int)type}");
        }
    }

    private void SkipList()
    {
        if (++depth > DepthLimit) throw new FormatException($"structures nested more than {DepthLimit} deep");
        byte head = Byte();
        ulong count = (ulong)(head >> 4);
        if (count == 15) count = Varint();
        var of = (ThriftType)(head & 0x0F);
        if (count > (ulong)(end - Position)) throw new FormatException($"a list of {count} elements in {end - Position} bytes");
        for (ulong i = 0; i < count; i++)
        {
            // A truth in a list takes a byte; as a field it stands in the field's head.
            if (of is ThriftType.True or ThriftType.False) Byte();
            else Skip(of);
        }

        depth--;
    }

    private byte Byte() => Position < end ? bytes[Position++] : throw new FormatException("the end of the header");

    private ulong Varint()
    {
        ulong value = 0;
        for (int shift = 0; shift < 64; shift += 7)
        {
            byte part = Byte();
            value |= (ulong)(part & 0x7F) << shift;
            if (part < 0x80) return value;
        }

        throw new FormatException("a number of more than 64 bits");
    }
}
