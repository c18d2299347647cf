using System.Globalization;

namespace Stillwatch.Formats.Wfdb.Header;

/// <summary>Reads one signal specification line. A field that cannot be read is listed and counts as absent; its place stays taken.</summary>
internal sealed class SignalLineParser(string name, IssueLog issues)
{
    private const int MostSamplesPerFrame = 1 << 20;

    private string place = "";

    public SignalLine Parse(string line, int index)
    {
        place = $"{name}, signal {index + 1}";
        var fields = new FieldReader(line);
        string file = fields.Next();
        var (format, perFrame, skew, offset) = FormatOf(fields.Next());
        var (gain, baseline, unit) = GainOf(fields.Next());
        WholeOf(fields.Next(), "ADC resolution");
        long adcZero = WholeOf(fields.Next(), "ADC zero") ?? 0;
        long? initial = WholeOf(fields.Next(), "initial value");
        long? checksum = WholeOf(fields.Next(), "checksum");
        WholeOf(fields.Next(), "block size");
        string label = fields.Rest.Length > 0 ? fields.Rest : $"signal {index + 1}";
        if (gain == 0) gain = null;
        return new SignalLine(index, file, format, perFrame, skew, offset, gain, baseline ?? adcZero, unit, adcZero, initial, checksum, label);
    }

    // 212x4:2+24, in any order, each at most once.
    private (int? Format, int? PerFrame, long Skew, long Offset) FormatOf(string field)
    {
        int at = Digits(field, 0);
        int? format = int.TryParse(field.AsSpan(0, at), NumberStyles.None, CultureInfo.InvariantCulture, out int code) ? code : null;
        int? perFrame = 1;
        long skew = 0, offset = 0;
        while (at < field.Length)
        {
            char mark = field[at];
            int end = Digits(field, at + 1);
            bool isNumber = long.TryParse(field.AsSpan(at + 1, end - at - 1), NumberStyles.None, CultureInfo.InvariantCulture, out long number);
            if (!isNumber || mark is not ('x' or ':' or '+'))
            {
                // What is left would change where samples lie: nothing is guessed.
                Doubt(field, "format", "a format, with xN, :skew or +offset at most", "the signal's file is not read");
                return (null, null, 0, 0);
            }

            if (mark == 'x') perFrame = number is >= 1 and <= MostSamplesPerFrame ? (int)number : null;
            else if (mark == ':') skew = number;
            else offset = number;
            at = end;
        }

        if (format is null || perFrame is null) Doubt(field, "format", $"a format, and at most {MostSamplesPerFrame} samples in a frame", "the signal's file is not read");
        return (format, perFrame, skew, offset);
    }

    // 200(1024)/mV
    private (decimal? Gain, long? Baseline, string Unit) GainOf(string field)
    {
        const string millivolts = "mV";
        int slash = field.IndexOf('/', StringComparison.Ordinal);
        string unit = slash < 0 || slash == field.Length - 1 ? millivolts : field[(slash + 1)..];
        string number = slash < 0 ? field : field[..slash];
        long? baseline = null;
        int open = number.IndexOf('(', StringComparison.Ordinal);
        if (open >= 0)
        {
            string inside = number[(open + 1)..].TrimEnd(')');
            if (int.TryParse(inside, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int whole)) baseline = whole;
            else Doubt(inside, "baseline", "a whole number", "the signal counts as uncalibrated");
            if (baseline is null) return (null, null, unit);
            number = number[..open];
        }

        if (number.Length == 0) return (null, baseline, unit);
        if (HeaderParser.TryDecimal(number, out decimal gain)) return (gain, baseline, unit);
        Doubt(number, "gain", "a number", "the signal counts as uncalibrated");
        return (null, baseline, unit);
    }

    private long? WholeOf(string field, string what)
    {
        if (field.Length == 0) return null;
        if (int.TryParse(field, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int whole)) return whole;
        Doubt(field, what, "a whole number", "as if it were absent");
        return null;
    }

    private static int Digits(string text, int from)
    {
        while (from < text.Length && char.IsAsciiDigit(text[from])) from++;
        return from;
    }

    private void Doubt(string found, string what, string expected, string assumed) =>
        issues.Doubt(WfdbIssueCodes.HeaderField, $"{place} {what}", place, $"{what} {IssueLog.Show(found)}", expected, assumed);
}
