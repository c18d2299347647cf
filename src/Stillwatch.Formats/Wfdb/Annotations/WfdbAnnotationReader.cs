using System.Buffers.Binary;
using System.Text;
using Stillwatch.Formats.Wfdb.Annotations;
using Stillwatch.Formats.Wfdb.Header;

namespace Stillwatch.Formats.Wfdb;

/// <summary>
/// Reads annotation files in MIT format (annot(5) of the WFDB Applications Guide, physionet.org/physiotools/wag/annot-5.htm), whatever their ending. A file in AHA format is refused.
/// </summary>
public static class WfdbAnnotationReader
{
    // Six bits of type and ten of time in each pair of bytes; these types change the annotation before them.
    private const int Skip = 59;
    private const int Number = 60;
    private const int SubType = 61;
    private const int Channel = 62;
    private const int Text = 63;

    // annot(5): the second byte of an AHA block is the type as a letter. From the AHA database's own codes (from memory).
    private const string AhaLetters = "NVFEPQOURS[]AJaje";
    private const int AhaBlock = 16;

    /// <exception cref="FileNotFoundException">It is gone.</exception>
    /// <exception cref="UnreadableFileException">It is in AHA format.</exception>
    public static WfdbAnnotations Read(RecordingSource source)
    {
        var issues = new IssueLog();
        var (items, ticks) = Read(source, issues);
        return new WfdbAnnotations(items, ticks, issues.ToList());
    }

    internal static (IReadOnlyList<WfdbAnnotation> Items, decimal? TicksPerSecond) Read(RecordingSource source, IssueLog issues)
    {
        using var stream = source.Open();
        RefuseAha(stream, source.Name);
        using var buffered = new BufferedStream(stream, 1 << 16);
        var items = new Parse(buffered, source.Name, issues).All();
        return TakeDefinitions(items);
    }

    private static void RefuseAha(Stream stream, string name)
    {
        Span<byte> head = stackalloc byte[8 * AhaBlock];
        int length = stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        stream.Position = 0;
        int blocks = length / AhaBlock;
        if (blocks < 2 || stream.Length % AhaBlock != 0) return;
        for (int i = 0; i < blocks; i++)
        {
            var block = head.Slice(i * AhaBlock, AhaBlock);
            int serial = BinaryPrimitives.ReadUInt16LittleEndian(block[6..]);
            int before = i == 0 ? serial - 1 : BinaryPrimitives.ReadUInt16LittleEndian(head[((i - 1) * AhaBlock + 6)..]);
            if (block[0] != 0 || !AhaLetters.Contains((char)block[1], StringComparison.Ordinal) || serial != before + 1) return;
        }

        throw new UnreadableFileException("blocks of 16 bytes with letters and rising numbers: AHA format", "annotations in MIT format (annot(5))", name, "it comes from an AHA distribution tape; the original tools convert it");
    }

    // "## …" in comments at time zero speak of the file: its own symbols, and the resolution of its times.
    private static (IReadOnlyList<WfdbAnnotation> Items, decimal? TicksPerSecond) TakeDefinitions(List<WfdbAnnotation> items)
    {
        var symbols = new Dictionary<int, string>();
        decimal? ticks = null;
        bool defining = false;
        int taken = 0;
        for (; taken < items.Count && items[taken] is { Tick: 0, Code: AnnotationSymbols.Note, Text: { } text }; taken++)
        {
            string line = text.Trim();
            if (defining && line.StartsWith("## end of definitions", StringComparison.Ordinal)) defining = false;
            else if (defining) Define(line, symbols);
            else if (line.StartsWith("## annotation type definitions", StringComparison.Ordinal)) defining = true;
            else if (line.StartsWith("## time resolution:", StringComparison.Ordinal) && HeaderParser.TryDecimal(line[19..].Trim(), out decimal given) && given is >= SamplingFrequency.Least and <= SamplingFrequency.Most) ticks = given;
            else break;
        }

        return ([.. items.Skip(taken).Select(item => item with { Symbol = AnnotationSymbols.Of(item.Code, symbols) })], ticks);
    }

    // "15 c calibration pulse"
    private static void Define(string line, Dictionary<int, string> symbols)
    {
        var fields = new FieldReader(line);
        if (int.TryParse(fields.Next(), out int code) && code is > 0 and < 50 && fields.Next() is { Length: > 0 } symbol) symbols[code] = symbol;
    }

    private sealed class Parse(Stream stream, string name, IssueLog issues)
    {
        private readonly List<WfdbAnnotation> items = [];
        private readonly byte[] pair = new byte[4];
        private readonly byte[] textBytes = new byte[1024];
        private long tick;
        private int number;
        private int channel;
        private long at; // bytes read

        public List<WfdbAnnotation> All()
        {
            while (Next(2))
            {
                int word = BinaryPrimitives.ReadUInt16LittleEndian(pair);
                if (word == 0)
                {
                    // annot(5): type and time zero end the file.
                    if (stream.ReadByte() >= 0) Doubt("after the end", "bytes after the end mark", "the end of the file", "not read");
                    return items;
                }

                if (!Take(word >> 10, word & 0x3FF)) break;
            }

            Doubt("end", "the end of the file", "an end mark (two zero bytes)", "what came before; the file was cut off");
            return items;
        }

        private bool Take(int code, int value)
        {
            switch (code)
            {
                case Skip:
                    if (!Next(4)) return false;
                    // PDP-11 order: the high 16 bits first, each pair low byte first.
                    tick += (BinaryPrimitives.ReadInt16LittleEndian(pair) << 16) | BinaryPrimitives.ReadUInt16LittleEndian(pair.AsSpan(2));
                    return true;
                case Number:
                    number = unchecked((sbyte)value); // annot(5) fields are bytes in the library
                    Change(item => item with { Number = number }, null);
                    return true;
                case SubType:
                    int subType = unchecked((sbyte)value);
                    Change(item => item with { SubType = subType }, "a sub type");
                    return true;
                case Channel:
                    channel = value & 0xFF;
                    Change(item => item with { Channel = channel }, null);
                    return true;
                case Text:
                    return TakeText(value);
                case 0:
                    tick += value;
                    // Writers end a file's own definitions with a step back and this one to zero again.
                    if (tick != 0) Doubt("code 0", "type 0 with a time", "a type from 1 on", "its time counts; it is no annotation");
                    return true;
                default:
                    tick += value;
                    items.Add(new WfdbAnnotation(tick, code, "", 0, channel, number, null));
                    return true;
            }
        }

        private bool TakeText(int length)
        {
            int padded = length + (length & 1);
            int got = stream.ReadAtLeast(textBytes.AsSpan(0, padded), padded, throwOnEndOfStream: false);
            at += got;
            string text = HeaderLines.Decode(textBytes.AsSpan(0, Math.Min(got, length))).TrimEnd('\0');
            Change(item => item with { Text = text }, "a text");
            return got == padded;
        }

        private void Change(Func<WfdbAnnotation, WfdbAnnotation> change, string? what)
        {
            if (items.Count > 0) items[^1] = change(items[^1]);
            else if (what is not null) Doubt($"early {what}", $"{what} before the first annotation", "an annotation that it belongs to", "passed over");
        }

        private bool Next(int length)
        {
            int got = stream.ReadAtLeast(pair.AsSpan(0, length), length, throwOnEndOfStream: false);
            at += got;
            return got == length;
        }

        private void Doubt(string about, string found, string expected, string assumed) =>
            issues.Doubt(WfdbIssueCodes.AnnotationUnreadable, $"{name} {about}", $"{name}, byte {at}", found, expected, assumed);
    }
}
