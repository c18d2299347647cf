using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace Stillwatch.Formats.Exports;

/// <summary>
/// The kept secret of de-identified exports: the same patient gets the same pseudonym and the same shift of dates in every export under one
/// secret. Who has it can undo both; who loses it cannot link further exports to earlier ones.
/// </summary>
/// <remarks>HMAC with SHA-256 (RFC 2104, FIPS 198-1; test vectors: RFC 4231) over a purpose and the patient, so that neither tells anything of the other.</remarks>
public sealed class LinkageSecret
{
    public const int Bytes = 32;

    /// <summary>Dates go back by at least one day and at most this many.</summary>
    public const int MostDays = 365;

    // 32 signs that are not taken for one another when read aloud or copied by hand: no I, L, O, U.
    private const string Alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

    private readonly byte[] key;

    /// <exception cref="ArgumentException">Not <see cref="Bytes"/> bytes.</exception>
    public LinkageSecret(ReadOnlySpan<byte> key)
    {
        if (key.Length != Bytes) throw new ArgumentException($"Found a secret of {key.Length} bytes, expected {Bytes}.", nameof(key));
        this.key = key.ToArray();
    }

    /// <summary>Whole days, from −365 to −1: never none, never into the future.</summary>
    public int ShiftDays(string patient) => -1 - (int)(BinaryPrimitives.ReadUInt64BigEndian(Code(key, "stillwatch export, days back", patient)) % MostDays);

    /// <summary>A pseudonym of a patient: "P-7K3QX-9M2TD", 50 bits.</summary>
    public string PatientPseudonym(string patient) => "P-" + Word("stillwatch export, patient", patient);

    /// <summary>A pseudonym of a reviewer: "R-…".</summary>
    public string ReviewerPseudonym(string reviewer) => "R-" + Word("stillwatch export, reviewer", reviewer);

    /// <summary>HMAC-SHA256 of purpose, a line feed, and the text, in UTF-8.</summary>
    internal static byte[] Code(ReadOnlySpan<byte> key, string purpose, string text) => Hmac(key, Encoding.UTF8.GetBytes($"{purpose}\n{text}"));

    internal static byte[] Hmac(ReadOnlySpan<byte> key, ReadOnlySpan<byte> message) => HMACSHA256.HashData(key, message);

    private string Word(string purpose, string text)
    {
        ulong bits = BinaryPrimitives.ReadUInt64BigEndian(Code(key, purpose, text));
        var word = new StringBuilder();
        for (int i = 0; i < 10; i++, bits <<= 5)
        {
            if (i == 5) word.Append('-');
            word.Append(Alphabet[(int)(bits >> 59)]);
        }

        return word.ToString();
    }
}
