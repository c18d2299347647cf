using System.Globalization;
using Stillwatch.Time;

namespace Stillwatch.Formats.Wfdb.Header;

/// <summary>Reads a header file as header(5) of the WFDB Applications Guide describes it (physionet.org/physiotools/wag/header-5.htm).</summary>
/// <param name="name">The header file.</param>
/// <param name="issues">Where what was assumed is listed.</param>
internal sealed class HeaderParser(string name, IssueLog issues)
{
    private const int MostSegments = 1_000_000;

    /// <summary>Every segment is looked through for each of them.</summary>
    private const int MostSignals = 1000;

    /// <exception cref="UnreadableFileException">It has no record line, or one whose times cannot be told.</exception>
    public WfdbHeader Parse(HeaderLines text)
    {
        if (text.Lines.Count == 0) throw Unreadable("no line that is not a comment", "the file is empty or was cut off");
        var (_, record) = text.Lines[0];
        var fields = new FieldReader(record);
        string first = fields.Next();
        int slash = first.IndexOf('/', StringComparison.Ordinal);
        string recordName = slash < 0 ? first : first[..slash];
        int? segments = slash < 0 ? null : CountOf(first[(slash + 1)..], "a number of segments", 1, MostSegments);
        int signals = CountOf(fields.Next(), "a number of signals", 0, MostSignals);
        decimal? frequency = FrequencyOf(fields.Next());
        long? frames = FramesOf(fields.Next());
        var start = BaseTime.Parse(fields.Next(), fields.Next(), name, issues);
        if (fields.Rest.Length > 0)
            issues.Doubt(WfdbIssueCodes.HeaderField, "record", $"{name}, record line", IssueLog.Show(fields.Rest), "the end of the line after the date", "passed over");
        CheckEnd(text, recordName);

        var body = text.Lines.Skip(1).ToList();
        int expected = segments ?? signals;
        CheckLines(body.Count, expected, segments is null ? "signal" : "segment");
        return new WfdbHeader(
            name, recordName, segments, signals, frequency, frames, start,
            segments is null ? [.. body.Take(expected).Select((line, i) => new SignalLineParser(name, issues).Parse(line.Text, i))] : [],
            segments is null ? [] : [.. body.Take(expected).Select((line, i) => SegmentOf(line.Text, i))],
            text.Comments);
    }

    /// <summary>Whether a line can be a record line: a name, a number of signals, and numbers in the places of the frequency and the length.</summary>
    public static bool IsRecordLine(string line)
    {
        var fields = new FieldReader(line);
        string recordName = fields.Next();
        string count = fields.Next();
        string frequency = fields.Next();
        string frames = fields.Next();
        return recordName.Length > 0 && recordName.IndexOfAny([',', ';', '"', '=']) < 0
            && int.TryParse(count, NumberStyles.None, CultureInfo.InvariantCulture, out _)
            && (frequency.Length == 0 || TryDecimal(BeforeAny(frequency, '/', '('), out _))
            && (frames.Length == 0 || long.TryParse(frames, NumberStyles.None, CultureInfo.InvariantCulture, out _));
    }

    /// <summary>A number as C reads it (header(5): any form of scanf): 360, 360., 3.6e2.</summary>
    public static bool TryDecimal(string text, out decimal value) =>
        decimal.TryParse(text, NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out value);

    private void CheckEnd(HeaderLines text, string recordName)
    {
        if (!text.EndsWithLine)
            issues.Doubt(WfdbIssueCodes.HeaderLineOpen, name, name, "a last line without its end", "a line feed after every line", "taken as it stands; the file may have been cut off");
        if (recordName != Path.GetFileNameWithoutExtension(name))
            issues.Doubt(WfdbIssueCodes.HeaderName, name, $"{name}, record line", IssueLog.Show(recordName), "the name of the file", "read all the same; the file was renamed or the header is another's");
    }

    private void CheckLines(int found, int expected, string kind)
    {
        if (found < expected)
            issues.Failure(WfdbIssueCodes.HeaderLinesMissing, name, name, $"{found} {kind} lines", $"{expected}, as the record line says", $"those that are there; the header was cut off{(kind == "signal" ? ", and the last file cannot be told apart" : "")}");
        else if (found > expected)
            issues.Doubt(WfdbIssueCodes.HeaderLinesSurplus, name, name, $"{found} {kind} lines", $"{expected}, as the record line says", "the surplus lines are not read");
    }

    private SegmentLine SegmentOf(string line, int index)
    {
        var fields = new FieldReader(line);
        string segment = fields.Next();
        string length = fields.Next();
        if (long.TryParse(length, NumberStyles.None, CultureInfo.InvariantCulture, out long frames)) return new SegmentLine(index, segment, frames);
        throw Unreadable($"segment {index + 1} of {IssueLog.Show(length)} samples", "the header was damaged; where a segment's length is not known, all later ones have no place in time");
    }

    private int CountOf(string field, string what, int least, int most)
    {
        if (int.TryParse(field, NumberStyles.None, CultureInfo.InvariantCulture, out int count) && count >= least && count <= most) return count;
        throw Unreadable($"{IssueLog.Show(field)} as {what} (from {least} to {most})", $"this is not a WFDB header, or its record line was damaged");
    }

    private decimal? FrequencyOf(string field)
    {
        if (field.Length == 0) return null;
        if (TryDecimal(BeforeAny(field, '/', '('), out decimal frequency) && frequency is >= SamplingFrequency.Least and <= SamplingFrequency.Most) return frequency;
        throw Unreadable($"{IssueLog.Show(field)} as sampling frequency", "the record line was damaged; without it no sample has a time");
    }

    private long? FramesOf(string field)
    {
        if (field.Length == 0) return null;
        if (long.TryParse(field, NumberStyles.None, CultureInfo.InvariantCulture, out long frames)) return frames == 0 ? null : frames;
        issues.Doubt(WfdbIssueCodes.HeaderField, "samples", $"{name}, record line", $"{IssueLog.Show(field)} as number of samples", "a whole number", "not known; the files' lengths tell");
        return null;
    }

    private static string BeforeAny(string text, params ReadOnlySpan<char> marks)
    {
        int at = text.AsSpan().IndexOfAny(marks);
        return at < 0 ? text : text[..at];
    }

    private UnreadableFileException Unreadable(string found, string cause) =>
        new(found, "a WFDB record line: name, number of signals, sampling frequency, number of samples", name, cause);
}

/// <summary>Takes fields that are separated by blanks and tabs off a line, one after the other.</summary>
internal struct FieldReader(string line)
{
    private int at = Skip(line, 0);

    /// <summary>The next field; empty at the end of the line.</summary>
    public string Next()
    {
        int end = at;
        while (end < line.Length && !IsBlank(line[end])) end++;
        string field = line[at..end];
        at = Skip(line, end);
        return field;
    }

    /// <summary>All that is left, without blanks at its ends.</summary>
    public readonly string Rest => line[at..].Trim();

    private static bool IsBlank(char c) => c is ' ' or '\t' or '\r' or '\v' or '\f';

    private static int Skip(string line, int from)
    {
        while (from < line.Length && IsBlank(line[from])) from++;
        return from;
    }
}
