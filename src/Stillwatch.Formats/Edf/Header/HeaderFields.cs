using System.Globalization;
using System.Text;

namespace Stillwatch.Formats.Edf.Header;

/// <summary>Takes fields out of a header and lists what the specification does not allow in them.</summary>
/// <param name="bytes">The whole header, or its fixed part.</param>
/// <param name="signalCount">Signals in the file; 0 while only the fixed part is read.</param>
/// <param name="issues">Where oddities are listed.</param>
internal sealed class HeaderFields(byte[] bytes, int signalCount, IssueLog issues)
{
    private static readonly UTF8Encoding StrictUtf8 = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    /// <summary>"header, startdate" or "header, signal 3, label".</summary>
    public static string Place(EdfField field, int? signalIndex = null) =>
        signalIndex is { } index ? $"header, signal {index + 1}, {field.Name}" : $"header, {field.Name}";

    public ReadOnlySpan<byte> Bytes(EdfField field, int? signalIndex = null) =>
        bytes.AsSpan(signalIndex is { } index ? EdfFields.PositionOf(field, signalCount, index) : field.Offset, field.Width);

    /// <summary>
    /// A field's text without the blanks around it. The specification allows printable US-ASCII alone; other bytes are taken as UTF-8 where
    /// they are that, else as Latin-1, and control characters are shown as a dot. Fields about persons are not to be listed with their content.
    /// </summary>
    public string Text(EdfField field, int? signalIndex = null)
    {
        var raw = Bytes(field, signalIndex);
        bool printable = true;
        foreach (byte b in raw) printable &= b is >= 32 and <= 126;
        if (printable) return Encoding.ASCII.GetString(raw).Trim();

        bool personal = signalIndex is null && (field == EdfFields.Patient || field == EdfFields.Recording);
        string text = Decode(raw, out string encoding);
        string shown = string.Create(text.Length, text, static (to, from) =>
        {
            for (int i = 0; i < to.Length; i++) to[i] = char.IsControl(from[i]) ? '·' : from[i];
        }).Trim();
        issues.Doubt(EdfIssueCodes.HeaderText, field.Name, Place(field, signalIndex), personal ? "bytes that are not printable US-ASCII" : IssueLog.Show(shown),
            "printable US-ASCII", $"read as {encoding}; control characters are shown as a dot");
        return shown;
    }

    /// <summary>A number as the specification writes it: digits, a sign, a point. Other spellings that can mean one number only are taken and listed.</summary>
    /// <returns>Null where it is no number; the caller lists what follows from that.</returns>
    public decimal? Number(EdfField field, int? signalIndex = null)
    {
        var raw = Bytes(field, signalIndex);
        string text = Encoding.Latin1.GetString(raw);
        string trimmed = text.Trim(' ');
        string cleaned = trimmed.Trim('\0', ' ', '\t', '\r', '\n');
        bool comma = cleaned.Contains(',', StringComparison.Ordinal) && !cleaned.Contains('.', StringComparison.Ordinal) && cleaned.IndexOf(',') == cleaned.LastIndexOf(',');
        string number = comma ? cleaned.Replace(',', '.') : cleaned;
        const NumberStyles plain = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint;
        bool isPlain = decimal.TryParse(number, plain, CultureInfo.InvariantCulture, out decimal value);
        bool isNumber = isPlain || decimal.TryParse(number, plain | NumberStyles.AllowExponent, CultureInfo.InvariantCulture, out value);
        if (!isNumber) return null;
        if (comma || !isPlain || cleaned.Length != trimmed.Length)
        {
            issues.Doubt(EdfIssueCodes.HeaderNumber, field.Name, Place(field, signalIndex), IssueLog.Show(text), "digits, with a point for decimals, filled up with blanks",
                $"taken as {value.ToString(CultureInfo.InvariantCulture)}");
        }

        return value;
    }

    /// <summary>A whole number; a decimal that is whole ("250.0") is taken and listed.</summary>
    /// <returns>Null where it is none, or lies beyond ±2³¹.</returns>
    public long? Whole(EdfField field, int? signalIndex = null)
    {
        if (Number(field, signalIndex) is not { } value || value != decimal.Truncate(value) || Math.Abs(value) > int.MaxValue) return null;
        if (Bytes(field, signalIndex).Contains((byte)'.'))
        {
            issues.Doubt(EdfIssueCodes.HeaderNumber, field.Name, Place(field, signalIndex), Show(field, signalIndex), "a whole number", $"taken as {(long)value}");
        }

        return (long)value;
    }

    public string Show(EdfField field, int? signalIndex = null) => IssueLog.Show(Encoding.Latin1.GetString(Bytes(field, signalIndex)));

    private static string Decode(ReadOnlySpan<byte> raw, out string encoding)
    {
        try
        {
            encoding = "UTF-8";
            return StrictUtf8.GetString(raw);
        }
        catch (DecoderFallbackException)
        {
            encoding = "Latin-1";
            return Encoding.Latin1.GetString(raw);
        }
    }
}
