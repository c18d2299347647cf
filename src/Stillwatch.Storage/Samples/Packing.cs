using System.Buffers.Binary;
using ZstdSharp;

namespace Stillwatch.Storage.Samples;

/// <summary>The outermost layer of every chunk: the length of what is inside in four bytes, then that as a Zstandard frame. Not thread-safe.</summary>
internal sealed class Packing : IDisposable
{
    // The fastest level of Zstandard: after differences and byte planes the next ones save less than a hundredth on a pleth.
    private const int Level = 1;

    private readonly Compressor compressor = new(Level);
    private readonly Decompressor decompressor = new();

    public byte[] Pack(ReadOnlySpan<byte> content)
    {
        byte[] packed = new byte[4 + Compressor.GetCompressBound(content.Length)];
        BinaryPrimitives.WriteInt32LittleEndian(packed, content.Length);
        int length = 4 + compressor.Wrap(content, packed.AsSpan(4));
        return packed[..length];
    }

    /// <param name="packed">As <see cref="Pack"/> made it.</param>
    /// <param name="most">The length beyond which nothing honest goes: no memory is taken for more.</param>
    /// <exception cref="InvalidDataException">It is damaged.</exception>
    public byte[] Unpack(ReadOnlySpan<byte> packed, int most)
    {
        if (packed.Length < 4) throw new InvalidDataException("the chunk is empty");
        int length = BinaryPrimitives.ReadInt32LittleEndian(packed);
        if (length < 0 || length > most) throw new InvalidDataException($"the chunk says that it holds {length} bytes, which is more than {most}");
        byte[] content = new byte[length];
        try
        {
            if (decompressor.Unwrap(packed[4..], content) == length) return content;
        }
        catch (ZstdException e)
        {
            throw new InvalidDataException($"the chunk cannot be unpacked ({e.Message})", e);
        }

        throw new InvalidDataException("the chunk holds less than it says");
    }

    public void Dispose()
    {
        compressor.Dispose();
        decompressor.Dispose();
    }
}
