using Stillwatch.Formats.Wfdb.Header;

namespace Stillwatch.Formats.Wfdb.Samples;

/// <summary>The signals of one segment that share a file, sample by sample in turn.</summary>
/// <param name="Name">The file.</param>
/// <param name="Format">One for all.</param>
/// <param name="Signals">In the order in which they stand in a frame; skipped ones too.</param>
/// <param name="ByteOffset">Of the first sample.</param>
/// <param name="FrameCount">Whole frames to read: those of the header, as far as the file holds them.</param>
internal sealed record SignalFile(string Name, SignalFormat Format, IReadOnlyList<SignalLine> Signals, long ByteOffset, long FrameCount)
{
    /// <summary>Whether all frames of the header are there, so that a checksum over all of them says something.</summary>
    public bool IsComplete { get; init; }

    public int FrameLength => Signals.Sum(s => s.SamplesPerFrame!.Value);
}

/// <summary>Finds the signal files of a header and how much of them can be read. Whatever cannot is listed, and why.</summary>
/// <param name="folder">Where the header stands.</param>
/// <param name="issues">Where what cannot be read is listed.</param>
internal sealed class SignalFileFinder(IRecordingFolder folder, IssueLog issues)
{
    // One frame is held at a time, and it must be.
    private const int LongestFrame = 1 << 22;

    // A channel is counted in 32 bits.
    private const int MostSamples = 2_000_000_000;

    /// <param name="header">Of an ordinary record, or of a segment.</param>
    /// <param name="expectedFrames">Null: not known; then the file's length tells.</param>
    /// <returns>Those with at least one frame.</returns>
    public IReadOnlyList<SignalFile> Find(WfdbHeader header, long? expectedFrames)
    {
        var files = new List<SignalFile>();
        var groups = new List<List<SignalLine>>();
        foreach (var signal in header.Signals)
        {
            // header(5): all entries for signals that share a file must be consecutive.
            if (groups.Count > 0 && groups[^1][0].FileName == signal.FileName) groups[^1].Add(signal);
            else groups.Add([signal]);
        }

        var seen = new HashSet<string>(StringComparer.Ordinal);
        for (int i = 0; i < groups.Count; i++)
        {
            var group = groups[i];
            string? refusal = Refusal(header, group, isLast: i == groups.Count - 1, isRepeated: !seen.Add(group[0].FileName));
            if (refusal is not null) Refuse(header, group, refusal);
            else if (group[0].FileName == SignalLine.Null) NoteNull(header, group);
            else if (Open(header, group, expectedFrames) is { } file) files.Add(file);
        }

        return files;
    }

    private static string? Refusal(WfdbHeader header, List<SignalLine> group, bool isLast, bool isRepeated)
    {
        string name = group[0].FileName;
        if (isLast && !header.HasAllSignals) return "lines of its signals are missing, so its samples cannot be told apart";
        if (name == SignalLine.Null) return null;
        if (isRepeated) return "lines of the same file stand apart (header(5): they must be consecutive)";
        if (name == "-") return "it is the standard input, which is not a recording beside the header";
        if (!FileNames.IsPlain(name)) return "it lies outside the header's folder, where nothing is opened";
        if (name.EndsWith(".hea", StringComparison.OrdinalIgnoreCase)) return "it is a header, not a signal file";
        var first = group[0];
        if (group.Exists(s => s.Format is null || s.SamplesPerFrame is null)) return "the format of a signal in it cannot be read";
        if (group.Exists(s => s.Format != first.Format)) return "its signals have different formats (header(5): all signals of a file have one)";
        if (group.Exists(s => s.ByteOffset != first.ByteOffset)) return "its signals have different byte offsets (header(5): all signals of a file have one)";
        if (SignalFormat.Find(first.Format!.Value) is null) return $"format {first.Format} is not read; formats read: {string.Join(", ", SignalFormat.All.Select(f => f.Code))}";
        return group.Sum(s => (long)s.SamplesPerFrame!.Value) > LongestFrame ? $"a frame of more than {LongestFrame} samples" : null;
    }

    private void Refuse(WfdbHeader header, List<SignalLine> group, string why) =>
        issues.Failure(WfdbIssueCodes.SignalRefused, $"{header.FileName} {group[0].FileName} {why}", $"{header.FileName}, {Show(group)}", $"file {IssueLog.Show(group[0].FileName)}: {why}", "a signal file as header(5) describes it", "not read", group.Count);

    private void NoteNull(WfdbHeader header, List<SignalLine> group) =>
        issues.Note(WfdbIssueCodes.SignalNoFile, $"{header.FileName} ~", $"{header.FileName}, {Show(group)}", "~ for a file", "a signal file", "a signal without samples", group.Count);

    private SignalFile? Open(WfdbHeader header, List<SignalLine> group, long? expectedFrames)
    {
        string name = group[0].FileName;
        string place = $"{name}, {Show(group)}";
        using var stream = folder.TryOpen(name);
        if (stream is null)
        {
            issues.Failure(WfdbIssueCodes.SignalNoFile, $"{header.FileName} {name}", $"{header.FileName}, {Show(group)}", $"no file {IssueLog.Show(name)}", "the signal file beside its header", "not read; it was not copied along, or is named otherwise", group.Count);
            return null;
        }

        var format = SignalFormat.Find(group[0].Format!.Value)!;
        var file = new SignalFile(name, format, group, group[0].ByteOffset, 0);
        long bytes = Math.Max(0, stream.Length - file.ByteOffset);
        long samples = format.SamplesIn(bytes);
        long held = samples / file.FrameLength;
        long frames = Math.Min(held, expectedFrames ?? held);
        long most = MostSamples / group.Max(s => s.SamplesPerFrame!.Value);
        if (frames > most)
        {
            issues.Failure(WfdbIssueCodes.FileLong, name, place, $"{frames} frames", $"at most {most}", "the rest is not read");
            frames = expectedFrames is null ? most : Math.Min(most, expectedFrames.Value);
        }

        long rest = bytes - format.BytesOf(frames * file.FrameLength);
        if (expectedFrames is null)
        {
            issues.Note(WfdbIssueCodes.FileCountUnknown, name, place, "no number of samples in the header", "one", $"{frames} frames, as many as the file holds; checksums say nothing then");
            if (rest > 0) NoteRest(name, place, rest, file.FrameLength);
        }
        else if (held < expectedFrames)
        {
            issues.Doubt(WfdbIssueCodes.FileShort, name, place, $"{held} frames", $"{expectedFrames}, as the header says", "what is there; the file was cut off");
            if (rest > 0 && held > 0) NoteRest(name, place, rest, file.FrameLength);
        }
        else if (rest >= format.GroupBytes || (rest > 0 && frames * file.FrameLength % format.GroupSamples == 0))
        {
            // A last group that is padded to its full length is no surplus.
            issues.Doubt(WfdbIssueCodes.FileLong, name, place, $"{rest} bytes after the {frames} frames of the header", "the end of the file", "not read");
        }

        if (frames == 0)
        {
            issues.Failure(WfdbIssueCodes.SignalNoFile, $"{header.FileName} {name}", place, $"{stream.Length} bytes in {IssueLog.Show(name)}", $"at least one frame from byte {file.ByteOffset} on", "nothing in it to read", group.Count);
            return null;
        }

        return file with { FrameCount = frames, IsComplete = frames == header.FrameCount };
    }

    private void NoteRest(string name, string place, long bytes, int frame) =>
        issues.Doubt(WfdbIssueCodes.FileRemainder, name, place, $"{bytes} bytes at the end", $"whole frames of {frame} samples", "left out; the file was cut off");

    private static string Show(List<SignalLine> group) => group.Count == 1
        ? $"signal {group[0].Index + 1} {IssueLog.Show(group[0].Label)}"
        : $"signals {group[0].Index + 1} to {group[^1].Index + 1}";
}
