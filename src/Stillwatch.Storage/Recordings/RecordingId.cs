using System.Diagnostics.CodeAnalysis;
using System.Security.Cryptography;
using System.Text;

namespace Stillwatch.Storage.Recordings;

/// <summary>
/// Which recording: 32 hexadecimal digits made from the hashes of the files it was read from, so that the same bytes are the same
/// recording however often and under whatever name they are imported. The default value names none.
/// </summary>
public readonly record struct RecordingId
{
    private RecordingId(string text) => Text = text;

    /// <summary>Lower-case hexadecimal.</summary>
    public string Text { get; }

    /// <param name="identity">The SHA-256 of the file and of every part that was read with it, in the order of reading.</param>
    public static RecordingId OfIdentity(string identity) => new(Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(identity)).AsSpan(0, 16)));

    public static bool TryParse([NotNullWhen(true)] string? text, out RecordingId id)
    {
        bool isOne = text is { Length: 32 } && text.All(char.IsAsciiHexDigitLower);
        id = isOne ? new RecordingId(text!) : default;
        return isOne;
    }

    public override string ToString() => Text ?? "";
}
