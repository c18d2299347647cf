using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace Stillwatch.Storage.Samples;

/// <summary>A chunk as it stands in its table.</summary>
internal sealed class ChunkRow
{
    public required string Recording { get; init; }

    /// <summary>The channel, or the axis.</summary>
    public int Owner { get; init; }

    public int Level { get; init; }

    public int Chunk { get; init; }

    public int RowCount { get; init; }

    public long FirstMilliseconds { get; init; }

    public long LastMilliseconds { get; init; }

    public required byte[] Content { get; init; }

    /// <summary>
    /// The first half of the SHA-256 over where the chunk belongs and what is in it: a chunk that was changed, and one that is whole but in
    /// another's place, are both found.
    /// </summary>
    public byte[] Checksum { get; set; } = [];

    public ChunkRow Sealed(ChunkContent what)
    {
        Checksum = ChecksumOf(what);
        return this;
    }

    /// <exception cref="InvalidDataException">It is not the one that was stored there.</exception>
    public void Check(ChunkContent what)
    {
        if (!CryptographicOperations.FixedTimeEquals(Checksum, ChecksumOf(what))) throw new InvalidDataException("its checksum does not fit what is in it");
    }

    private byte[] ChecksumOf(ChunkContent what)
    {
        Span<byte> place = stackalloc byte[5 * sizeof(int) + 2 * sizeof(long)];
        BinaryPrimitives.WriteInt32LittleEndian(place, (int)what);
        BinaryPrimitives.WriteInt32LittleEndian(place[4..], Owner);
        BinaryPrimitives.WriteInt32LittleEndian(place[8..], Level);
        BinaryPrimitives.WriteInt32LittleEndian(place[12..], Chunk);
        BinaryPrimitives.WriteInt32LittleEndian(place[16..], RowCount);
        BinaryPrimitives.WriteInt64LittleEndian(place[20..], FirstMilliseconds);
        BinaryPrimitives.WriteInt64LittleEndian(place[28..], LastMilliseconds);
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(Encoding.ASCII.GetBytes(Recording));
        hash.AppendData(place);
        hash.AppendData(Content);
        return hash.GetHashAndReset()[..16];
    }
}

/// <summary>What a chunk holds; part of its checksum.</summary>
internal enum ChunkContent
{
    Times = 1,
    Samples = 2,
    Entries = 3,
    Annotations = 4,
}
