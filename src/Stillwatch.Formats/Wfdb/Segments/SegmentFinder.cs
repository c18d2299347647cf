using Stillwatch.Formats.Wfdb.Header;
using Stillwatch.Formats.Wfdb.Samples;
using Stillwatch.Time;

namespace Stillwatch.Formats.Wfdb.Segments;

/// <summary>
/// Lays the segments of a multi-segment record on one time line (header(5), "Multi-segment records"). What cannot be read stays a gap and is
/// listed; what comes after it keeps its place.
/// </summary>
/// <remarks>
/// Variable layout: the first segment has length 0 and its header says which signals there are; a segment's signals are found by their
/// descriptions. Fixed layout: the first readable segment's header says so, and signals should stand in the same order everywhere; they too are
/// found by description, so that a segment with another order is not read as something else.
/// </remarks>
internal sealed class SegmentFinder(RecordingSource source, WfdbHeader header, SampleRate rate, Func<string, WfdbHeader?> load, SignalFileFinder finder, IssueLog issues)
{
    /// <summary>header(5) lets a segment appear more than once; without a limit, a few bytes of header could ask for endless memory.</summary>
    private const int MostUses = 8;

    // What lies above is beyond 64 bits with a million samples to a frame.
    private const long MostFrames = long.MaxValue >> 23;

    private readonly Dictionary<string, (WfdbHeader? Header, string Found, string Expected)> headers = new(StringComparer.Ordinal);
    private readonly Dictionary<(string, long), IReadOnlyList<SignalFile>> files = [];
    private readonly Dictionary<string, int> uses = new(StringComparer.Ordinal);

    public RecordLayout Find()
    {
        var lines = header.Segments;
        bool isVariable = lines.Count > 0 && lines[0] is { FrameCount: 0, IsGap: false };
        var found = Place(isVariable ? lines.Skip(1) : lines, out long frames);
        var signals = SignalsOf(isVariable ? lines[0] : null, found);
        if (header.FrameCount is { } stated && stated != frames && header.Segments.Count == header.SegmentCount)
            issues.Doubt(WfdbIssueCodes.SegmentLength, "record", $"{source.Name}, record line", $"{stated} samples", $"{frames}, as the segments add up to", "the segments' own lengths");
        if (signals.Count != header.SignalCount)
            issues.Doubt(WfdbIssueCodes.HeaderField, "signals", $"{source.Name}, record line", $"{header.SignalCount} signals", $"{signals.Count}, as in the {(isVariable ? "layout" : "first segment")}", "those of the segment");
        var placed = found.Select(f => f with { LineOf = LinesOf(signals, f) }).ToList();
        return new RecordLayout(signals, placed, frames, $"WFDB, {lines.Count - (isVariable ? 1 : 0)} segments in {(isVariable ? "variable" : "fixed")} layout, {signals.Count} signal{(signals.Count == 1 ? "" : "s")}");
    }

    private List<PlacedSegment> Place(IEnumerable<SegmentLine> lines, out long frames)
    {
        var found = new List<PlacedSegment>();
        long most = (long)Int128.Min(MostFrames, (Int128)SamplingFrequency.LongestMilliseconds * rate.Samples / rate.Milliseconds);
        frames = 0;
        foreach (var line in lines)
        {
            if (line.FrameCount > most - frames)
            {
                issues.Failure(WfdbIssueCodes.SegmentLength, "century", $"{source.Name}, {line.Place}", $"{line.FrameCount} samples", "a record of less than a century", "this segment and all after it are not read");
                break;
            }

            long start = frames;
            frames += line.FrameCount;
            if (line.IsGap || line.FrameCount == 0) continue;
            if (Load(line) is not { } own) continue;
            if (!files.TryGetValue((line.Name, line.FrameCount), out var ownFiles)) files[(line.Name, line.FrameCount)] = ownFiles = finder.Find(own, line.FrameCount);
            if (ownFiles.Count > 0) found.Add(new PlacedSegment(line.Name, own, start, line.FrameCount, ownFiles, []));
        }

        return found;
    }

    // The segment's header, where it can be one of this record's.
    private WfdbHeader? Load(SegmentLine line)
    {
        if (HeaderOf(line) is not { } own) return null;
        int used = uses[line.Name] = uses.GetValueOrDefault(line.Name) + 1;
        if (used > MostUses) return Refuse(line, $"its {used}th use", $"at most {MostUses} uses of a segment");
        if (own.SegmentCount is not null) return Refuse(line, "a record of segments", "an ordinary record (header(5): segments cannot contain segments)");
        if ((own.Frequency ?? WfdbHeader.DefaultFrequency) != (header.Frequency ?? WfdbHeader.DefaultFrequency)) return Refuse(line, $"{own.Frequency} samples a second", $"{header.Frequency}, as in the record (header(5): frequencies must not change)");
        if (own.FrameCount is { } stated && stated != line.FrameCount)
            issues.Doubt(WfdbIssueCodes.SegmentLength, line.Name, $"{source.Name}, {line.Place}", $"{stated} samples in its own header", $"{line.FrameCount}, as the record says", "the record's number, as far as the file goes");
        return own;
    }

    private WfdbHeader? HeaderOf(SegmentLine line)
    {
        if (!headers.TryGetValue(line.Name, out var known)) headers[line.Name] = known = LoadOnce(line);
        if (known.Header is null)
            issues.Failure(WfdbIssueCodes.SegmentMissing, line.Name, $"{source.Name}, {line.Place}", known.Found, known.Expected, "a gap");
        return known.Header;
    }

    private (WfdbHeader? Header, string Found, string Expected) LoadOnce(SegmentLine line)
    {
        string name = line.Name + ".hea";
        if (!FileNames.IsPlain(name)) return (null, "a name with a folder in it", "a record in the same folder; nothing outside it is opened");
        if (name == source.Name) return (null, "the record itself", "another record");
        try
        {
            return (load(name), $"no file {IssueLog.Show(name)}", "the segment's header beside the record's");
        }
        catch (UnreadableFileException error)
        {
            return (null, error.Found, error.Expected);
        }
    }

    private WfdbHeader? Refuse(SegmentLine line, string found, string expected)
    {
        issues.Failure(WfdbIssueCodes.SegmentRefused, line.Name, $"{source.Name}, {line.Place}", found, expected, "a gap");
        return null;
    }

    private IReadOnlyList<SignalLine> SignalsOf(SegmentLine? layout, List<PlacedSegment> found)
    {
        if (layout is not null)
        {
            if (HeaderOf(layout) is { SegmentCount: null } own) return own.Signals;
            issues.Doubt(WfdbIssueCodes.SegmentMissing, "layout", $"{source.Name}, {layout.Place}", "no readable layout", "a header with the record's signals", "the signals of all segments, in the order in which they appear");
        }

        var signals = new List<SignalLine>();
        foreach (var segment in layout is null ? found.Take(1) : found)
        {
            foreach (var line in segment.Header.Signals)
            {
                if (layout is null || !signals.Exists(s => s.Label == line.Label)) signals.Add(line with { Index = signals.Count });
            }

            if (signals.Count > 1000) break;
        }

        return signals;
    }

    private int[] LinesOf(IReadOnlyList<SignalLine> signals, PlacedSegment segment)
    {
        var lines = new int[signals.Count];
        var free = segment.Header.Signals.GroupBy(s => s.Label).ToDictionary(g => g.Key, g => new Queue<SignalLine>(g));
        for (int i = 0; i < lines.Length; i++)
        {
            lines[i] = free.TryGetValue(signals[i].Label, out var same) && same.TryDequeue(out var line) && Matches(signals[i], line, segment) ? line.Index : -1;
        }

        foreach (var left in free.Values.SelectMany(q => q))
            issues.Failure(WfdbIssueCodes.SegmentRefused, $"{segment.Name} {left.Label}", $"segment {IssueLog.Show(segment.Name)}, {left.Place}", "a signal that the record's layout does not have", "one of its signals", "not read");
        return lines;
    }

    private bool Matches(SignalLine wanted, SignalLine line, PlacedSegment segment)
    {
        string? found = wanted.Unit != line.Unit ? $"in {IssueLog.Show(line.Unit)}" : wanted.SamplesPerFrame != line.SamplesPerFrame ? $"{line.SamplesPerFrame} samples per frame"
            : wanted.Gain is null != line.Gain is null ? line.Gain is null ? "no gain" : "a gain" : null;
        if (found is null) return true;
        issues.Failure(WfdbIssueCodes.SegmentRefused, $"{segment.Name} {line.Label}", $"segment {IssueLog.Show(segment.Name)}, {line.Place}", found, $"{IssueLog.Show(wanted.Unit)}, {wanted.SamplesPerFrame} samples per frame and {(wanted.Gain is null ? "no gain" : "a gain")}, as in the layout", "a gap in this signal");
        return false;
    }
}
