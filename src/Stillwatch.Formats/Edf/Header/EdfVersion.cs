namespace Stillwatch.Formats.Edf.Header;

/// <summary>How EDF and BDF files are told from others.</summary>
internal static class EdfVersion
{
    private static readonly string[] Extensions = [".edf", ".bdf", ".rec"];

    public static bool IsEdf(ReadOnlySpan<byte> head) => head.StartsWith("0       "u8);

    public static bool IsBdf(ReadOnlySpan<byte> head) => head.Length >= 8 && head[0] == 0xFF && head[1..].StartsWith("BIOSEMI"u8);

    /// <summary>
    /// By the version, in a header that is one long line; a file that bears the name is also taken by the form of its dates, or where it is
    /// too short to tell, so that the message speaks of its header.
    /// </summary>
    public static bool Recognises(ReadOnlySpan<byte> head, string name)
    {
        bool isNamed = Extensions.Contains(Path.GetExtension(name), StringComparer.OrdinalIgnoreCase);
        bool isVersion = IsEdf(head) || IsBdf(head);
        if (head.Length < EdfFields.FixedLength) return isNamed && (isVersion || head.Length < 8);
        if (isVersion) return isNamed || head[8..EdfFields.FixedLength].IndexOfAny((byte)'\r', (byte)'\n', (byte)'\t') < 0;
        return isNamed && head[170] == '.' && head[173] == '.' && head[178] == '.' && head[181] == '.';
    }

    public static bool MeansNotes(string label) => label is "EDF Annotations" or "BDF Annotations";
}
