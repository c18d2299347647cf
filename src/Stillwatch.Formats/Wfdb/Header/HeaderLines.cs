using System.Text;

namespace Stillwatch.Formats.Wfdb.Header;

/// <summary>A header file's lines: comments apart from the rest, each with its number from 1.</summary>
/// <remarks>header(5): lines end with LF, a CR may stand before it; a comment's first printing character is #.</remarks>
internal sealed record HeaderLines(IReadOnlyList<(int Number, string Text)> Lines, IReadOnlyList<string> Comments, bool EndsWithLine)
{
    /// <summary>100 000 segments take about two megabytes.</summary>
    private const int MostBytes = 16 << 20;

    /// <exception cref="UnreadableFileException">It is too large to be a header.</exception>
    public static HeaderLines Read(Stream stream, string name)
    {
        if (stream.Length > MostBytes)
            throw new UnreadableFileException($"{stream.Length} bytes", $"a header of at most {MostBytes} bytes", name, "this is not a WFDB header but a signal file");
        byte[] bytes = new byte[stream.Length];
        int length = stream.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false);
        return Split(Decode(bytes.AsSpan(0, length)));
    }

    public static HeaderLines Split(string text)
    {
        var lines = new List<(int, string)>();
        var comments = new List<string>();
        int number = 0;
        foreach (var range in text.AsSpan().Split('\n'))
        {
            number++;
            var line = text.AsSpan(range).Trim(" \t\r\0\uFEFF");
            if (line.IsEmpty) continue;
            if (line[0] == '#') comments.Add(line[1..].Trim().ToString());
            else lines.Add((number, line.ToString()));
        }

        return new HeaderLines(lines, comments, text.Length == 0 || text[^1] == '\n');
    }

    /// <summary>UTF-8, as today's writers use; else Latin-1, where every byte is some character.</summary>
    public static string Decode(ReadOnlySpan<byte> bytes)
    {
        return System.Text.Unicode.Utf8.IsValid(bytes) ? Encoding.UTF8.GetString(bytes) : Encoding.Latin1.GetString(bytes);
    }
}
