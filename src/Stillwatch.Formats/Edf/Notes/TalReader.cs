using System.Globalization;
using System.Text;

namespace Stillwatch.Formats.Edf.Notes;

/// <summary>
/// Reads the time-stamped annotations lists of one annotation signal in one data record: <c>+onset[\x15duration]\x14text\x14…\x14\0</c>,
/// unused bytes 0 (EDF+ specification, 2.2.2). What is malformed is listed with its place.
/// </summary>
internal sealed class TalReader(IssueLog issues)
{
    private const byte EndOfText = 0x14;
    private const byte BeforeDuration = 0x15;
    private const decimal LargestSeconds = 4_000_000_000m; // 126 years
    private const int ShownBytes = 60;

    private static readonly UTF8Encoding StrictUtf8 = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    /// <param name="bytes">The signal's bytes in the record.</param>
    /// <param name="isCut">Whether the record ends early, so that the last list may lack its end.</param>
    /// <param name="record">0-based, for messages.</param>
    /// <param name="signal">0-based, for messages.</param>
    /// <param name="into">Gets the lists in their order.</param>
    public void Read(ReadOnlySpan<byte> bytes, bool isCut, long record, int signal, List<Tal> into)
    {
        int at = 0;
        while (at < bytes.Length)
        {
            int start = bytes[at..].IndexOfAnyExcept((byte)0);
            if (start < 0) return;
            at += start;
            int length = bytes[at..].IndexOf((byte)0);
            bool isOpen = length < 0;
            var tal = isOpen ? bytes[at..] : bytes.Slice(at, length);
            var place = new Place(record, signal, at);
            if (isOpen && isCut)
                Malformed("cut", tal, place, "a list that ends with a byte 0", "the record ends early: not used");
            else
                Read(tal, isOpen, place, into);
            at += tal.Length;
        }
    }

    private void Read(ReadOnlySpan<byte> tal, bool isOpen, Place place, List<Tal> into)
    {
        if (isOpen) Malformed("open", tal, place, "a list that ends with a byte 0", "read up to the end of the record");
        int stampLength = tal.IndexOf(EndOfText);
        if (stampLength < 0)
        {
            Malformed("stamp", tal, place, "an onset, then byte 20", "not used");
            return;
        }

        var stamp = tal[..stampLength];
        int split = stamp.IndexOf(BeforeDuration);
        var onsetText = split < 0 ? stamp : stamp[..split];
        if (Seconds(onsetText, maySign: true) is not { } onset)
        {
            Malformed("onset", tal, place, "an onset in seconds: a sign, digits, a point", "not used");
            return;
        }

        if (onsetText[0] is not ((byte)'+' or (byte)'-')) Malformed("sign", tal, place, "an onset with its sign", $"+{onset.ToString(CultureInfo.InvariantCulture)} s");
        decimal duration = 0;
        if (split >= 0)
        {
            if (Seconds(stamp[(split + 1)..], maySign: false) is { } given) duration = given;
            else Malformed("duration", tal, place, "a duration in seconds: digits, a point", "a moment without a duration");
        }

        var texts = new List<string>();
        var rest = tal[(stampLength + 1)..];
        while (rest.Length > 0)
        {
            int end = rest.IndexOf(EndOfText);
            if (end < 0) Malformed("text", tal, place, "byte 20 at the end of each text", "the text as far as it goes");
            texts.Add(TextOf(end < 0 ? rest : rest[..end], place));
            rest = end < 0 ? default : rest[(end + 1)..];
        }

        into.Add(new Tal(place.Byte, (long)decimal.Round(onset * 1_000_000_000m), (long)decimal.Round(duration * 1000m, MidpointRounding.AwayFromZero), texts));
    }

    private static decimal? Seconds(ReadOnlySpan<byte> text, bool maySign)
    {
        var styles = NumberStyles.AllowDecimalPoint | (maySign ? NumberStyles.AllowLeadingSign : NumberStyles.None);
        bool isNumber = text.Length is > 0 and < 64 && decimal.TryParse(text, styles, CultureInfo.InvariantCulture, out decimal value) && Math.Abs(value) <= LargestSeconds;
        return isNumber ? decimal.Parse(text, styles, CultureInfo.InvariantCulture) : null;
    }

    // UTF-8; no control characters but tab and line ends (EDF+ specification, 2.2.3).
    private string TextOf(ReadOnlySpan<byte> bytes, Place place)
    {
        string text;
        try
        {
            text = StrictUtf8.GetString(bytes);
        }
        catch (DecoderFallbackException)
        {
            text = Encoding.Latin1.GetString(bytes);
            List(EdfIssueCodes.NotesText, "encoding", bytes, place, "text in UTF-8", "read as Latin-1");
        }

        if (!text.Any(IsUnwanted)) return text;
        List(EdfIssueCodes.NotesText, "control", bytes, place, "text without control characters", "these are shown as a dot");
        return string.Concat(text.Select(c => IsUnwanted(c) ? '·' : c));
    }

    private static bool IsUnwanted(char c) => char.IsControl(c) && c is not ('\t' or '\n' or '\r');

    private void Malformed(string what, ReadOnlySpan<byte> tal, Place place, string expected, string assumed) =>
        List(EdfIssueCodes.NotesMalformed, what, tal, place, expected, assumed);

    private void List(string code, string what, ReadOnlySpan<byte> found, Place place, string expected, string assumed)
    {
        if (issues.TryCount(code, what)) return;
        issues.Doubt(code, what, place.ToString(), IssueLog.Show(Encoding.Latin1.GetString(found[..Math.Min(found.Length, ShownBytes)])), expected, assumed);
    }

    private readonly record struct Place(long Record, int Signal, int Byte)
    {
        public override string ToString() => $"data record {Record + 1}, signal {Signal + 1}, byte {Byte}";
    }
}
