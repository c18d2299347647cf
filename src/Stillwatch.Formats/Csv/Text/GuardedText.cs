using System.Text;

namespace Stillwatch.Formats.Csv.Text;

/// <summary>
/// The text of a stream, decoded and guarded: refuses NULs and endless lines before anything is built of them. The first
/// <see cref="HeadBytes"/> can be looked at in <see cref="Head"/> before they are read.
/// </summary>
internal sealed class GuardedText : TextReader
{
    internal const int HeadBytes = 1 << 18;
    private const int BufferBytes = 1 << 16;

    private readonly Stream stream;
    private readonly string name;
    private readonly CsvReadOptions options;
    private readonly Decoder decoder;
    private readonly byte[] bytes;
    private int byteStart;
    private int byteEnd;
    private bool streamEnded;
    private int headServed;
    private long bytesRead;
    private long lineFeeds;
    private long lineLength;
    private char leftOver;
    private bool hasLeftOver;

    /// <exception cref="UnreadableFileException">Nothing in it, or no text.</exception>
    public GuardedText(Stream stream, string name, CsvReadOptions options)
    {
        this.stream = stream;
        this.name = name;
        this.options = options;
        bytes = ReadHead(out byteEnd);
        if (byteEnd == 0)
            throw new UnreadableFileException("an empty file", "a table of rows with times", name, "the export was stopped before it wrote anything");
        if (IsArchive(bytes.AsSpan(0, byteEnd)))
        {
            throw new UnreadableFileException("a zip file, as a spreadsheet workbook is (a compressed file)", "text: a table of rows with times", name,
                "a workbook was saved under this name; save its sheet as CSV, or unpack the file");
        }

        (var encoding, byteStart, EncodingName, IsEncodingAssumed) = EncodingOf(bytes.AsSpan(0, byteEnd));
        decoder = encoding.GetDecoder();

        var chars = new char[encoding.GetMaxCharCount(byteEnd - byteStart)];
        int length = 0;
        bool isDone = false;
        while (byteStart < byteEnd && !isDone) length += Step(chars.AsSpan(length), out isDone);
        Head = new string(chars, 0, length);
    }

    /// <summary>The beginning of the text; the whole text where <see cref="IsHeadWhole"/>.</summary>
    public string Head { get; }

    public bool IsHeadWhole => streamEnded && byteStart == byteEnd;

    public string EncodingName { get; }

    /// <summary>No byte-order mark, and not UTF-8 either.</summary>
    public bool IsEncodingAssumed { get; }

    /// <summary>Whether a double quote has stood anywhere in what was read so far.</summary>
    public bool HasQuotes { get; private set; }

    public override int Read(Span<char> buffer)
    {
        if (headServed < Head.Length)
        {
            int length = Math.Min(buffer.Length, Head.Length - headServed);
            Head.AsSpan(headServed, length).CopyTo(buffer);
            headServed += length;
            return length;
        }

        if (hasLeftOver && buffer.Length > 0)
        {
            hasLeftOver = false;
            buffer[0] = leftOver;
            return 1;
        }

        return buffer.Length == 1 ? DecodeOne(buffer) : Decode(buffer);
    }

    public override int Read(char[] buffer, int index, int count) => Read(buffer.AsSpan(index, count));

    public override int Read()
    {
        Span<char> one = stackalloc char[1];
        return Read(one) == 0 ? -1 : one[0];
    }

    private int Decode(Span<char> to)
    {
        int written = 0;
        bool isDone = false;
        while (written == 0 && to.Length > 0 && !isDone)
        {
            if (byteStart == byteEnd && !streamEnded) Fill();
            written = Step(to, out isDone);
        }

        return written;
    }

    // A character beyond the basic plane takes two places: where there is but one, the second waits.
    private int DecodeOne(Span<char> to)
    {
        Span<char> two = stackalloc char[2];
        int written = Decode(two);
        if (written == 0) return 0;
        hasLeftOver = written == 2;
        leftOver = two[1];
        to[0] = two[0];
        return 1;
    }

    // Pieces no longer than the limit: inside one piece no line can then be too long unnoticed.
    private int Step(Span<char> to, out bool isDone)
    {
        to = to[..Math.Min(to.Length, Math.Max(2, options.LineLengthLimit))];
        decoder.Convert(bytes.AsSpan(byteStart, byteEnd - byteStart), to, streamEnded, out int used, out int written, out bool completed);
        byteStart += used;
        isDone = streamEnded && completed && byteStart == byteEnd;
        Guard(to[..written]);
        return written;
    }

    private void Fill()
    {
        byteStart = 0;
        byteEnd = 0;
        while (byteEnd < bytes.Length)
        {
            int read = stream.Read(bytes, byteEnd, bytes.Length - byteEnd);
            if (read == 0)
            {
                streamEnded = true;
                break;
            }

            byteEnd += read;
        }

        bytesRead += byteEnd;
        options.Progress?.Invoke(bytesRead);
    }

    private byte[] ReadHead(out int length)
    {
        // Grows with the file, so that a short file costs little.
        var buffer = new byte[4096];
        length = 0;
        while (length < HeadBytes)
        {
            if (length == buffer.Length) Array.Resize(ref buffer, Math.Min(buffer.Length * 4, HeadBytes));
            int read = stream.Read(buffer, length, buffer.Length - length);
            if (read == 0)
            {
                streamEnded = true;
                break;
            }

            length += read;
        }

        bytesRead = length;
        options.Progress?.Invoke(bytesRead);
        return buffer;
    }

    private void Guard(ReadOnlySpan<char> chars)
    {
        if (chars.Contains('\0'))
        {
            throw new UnreadableFileException(
                $"a NUL character{Magic()}",
                "text",
                $"{name}, near line {lineFeeds + chars[..chars.IndexOf('\0')].Count('\n') + 1}",
                "a binary file, a file cut off by a crash, or UTF-16 without a byte-order mark; save it as CSV in UTF-8");
        }

        HasQuotes |= chars.Contains('"');
        int first = chars.IndexOfAny('\n', '\r');
        lineLength += first < 0 ? chars.Length : first;
        if (lineLength > options.LineLengthLimit) throw TooLong();
        if (first >= 0) lineLength = chars.Length - 1 - chars.LastIndexOfAny('\n', '\r');
        lineFeeds += chars.Count('\n');
    }

    private UnreadableFileException TooLong() => new(
        $"a line of more than {options.LineLengthLimit} characters",
        "lines that end",
        $"{name}, near line {lineFeeds + 1}",
        "no table, or its line ends were lost");

    // "PK" and a control character: a header may well begin with these two letters.
    private static bool IsArchive(ReadOnlySpan<byte> head) => head is [(byte)'P', (byte)'K', < 9, ..];

    private string Magic() => bytes.AsSpan(0, Math.Min(4, bytes.Length)) switch
    {
        [0x1F, 0x8B, ..] => " in what looks like a compressed file",
        [(byte)'%', (byte)'P', (byte)'D', (byte)'F'] => " in what looks like a printed page",
        _ => "",
    };

    private static (Encoding Encoding, int MarkLength, string Name, bool IsAssumed) EncodingOf(ReadOnlySpan<byte> head) => head switch
    {
        [0xEF, 0xBB, 0xBF, ..] => (Encoding.UTF8, 3, "UTF-8", false),
        [0xFF, 0xFE, ..] => (Encoding.Unicode, 2, "UTF-16 little-endian", false),
        [0xFE, 0xFF, ..] => (Encoding.BigEndianUnicode, 2, "UTF-16 big-endian", false),
        _ when IsUtf8(head) => (Encoding.UTF8, 0, "UTF-8", false),
        _ => (Encoding.Latin1, 0, "Latin-1", true),
    };

    private static bool IsUtf8(ReadOnlySpan<byte> head)
    {
        while (!head.IsEmpty)
        {
            var status = Rune.DecodeFromUtf8(head, out _, out int used);
            if (status == System.Buffers.OperationStatus.NeedMoreData) return true; // the head may end inside a character
            if (status != System.Buffers.OperationStatus.Done) return false;
            head = head[used..];
            int ascii = head.IndexOfAnyExceptInRange((byte)0, (byte)127);
            head = ascii < 0 ? [] : head[ascii..];
        }

        return true;
    }
}
