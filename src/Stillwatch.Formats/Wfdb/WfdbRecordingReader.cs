using Stillwatch.Formats.Labels;
using Stillwatch.Formats.Wfdb.Annotations;
using Stillwatch.Formats.Wfdb.Header;
using Stillwatch.Formats.Wfdb.Samples;
using Stillwatch.Formats.Wfdb.Segments;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Wfdb;

/// <summary>
/// WFDB records: a header (.hea), the signal files that it names, and the annotations beside it (.atr). After header(5), signal(5) and annot(5) of the
/// WFDB Applications Guide (physionet.org/physiotools/wag). Naming a signal or annotation file opens the header of the same name.
/// </summary>
/// <remarks>
/// Formats: <see cref="SignalFormat.All"/>. Samples with a format's invalid code, and the gaps between segments, have no number. Checksums and
/// first samples are compared for the signals that are held; a disagreement is listed and nothing is repaired.
/// </remarks>
public sealed class WfdbRecordingReader : IRecordingReader
{
    private const string HeaderEnding = ".hea";

    /// <summary>Signals held at most: each has buffers of its own, whatever the file has of it.</summary>
    private const int MostSignals = 500;

    private static readonly string[] DataEndings = [".dat", ".mat", RecordAnnotations.Ending];

    public string Formats => "WFDB";

    /// <summary>A record is found by its header alone: its data files are parts of it.</summary>
    public IReadOnlyList<string> Extensions => [HeaderEnding];

    public bool Recognises(ReadOnlySpan<byte> head, string name)
    {
        bool isText = head.IndexOf((byte)0) < 0;
        if (Ends(name, HeaderEnding)) return isText;
        if (DataEndings.Any(e => Ends(name, e))) return head.IsEmpty || !LooksLikeText(head);
        var lines = HeaderLines.Split(HeaderLines.Decode(head)).Lines;
        return isText && lines.Count > 1 && HeaderParser.IsRecordLine(lines[0].Text) && lines[1].Text.Split([' ', '\t'], StringSplitOptions.RemoveEmptyEntries) is [var file, var format, ..]
            && format.Length > 0 && char.IsAsciiDigit(format[0]) && (file == SignalLine.Null || DataEndings.Any(e => Ends(file, e)));
    }

    /// <summary>The headers of its segments: read by themselves they would count the same hours twice.</summary>
    public IReadOnlyList<string> PartsOf(RecordingSource source)
    {
        try
        {
            return Load(source, new IssueLog()) is { } header ? [.. header.Segments.Where(s => !s.IsGap).Select(s => s.Name + HeaderEnding).Distinct()] : [];
        }
        catch (UnreadableFileException)
        {
            return []; // why, is said where it is read
        }
    }

    public ReadResult Read(RecordingSource source, ReadOptions options)
    {
        var issues = new IssueLog();
        var headerSource = HeaderOf(source);
        var header = Load(headerSource, issues) ?? throw new FileNotFoundException($"No file {headerSource.Name}.", headerSource.Name);
        decimal frequency = header.Frequency ?? WfdbHeader.DefaultFrequency;
        if (header.Frequency is null)
            issues.Doubt(WfdbIssueCodes.HeaderDefault, "frequency", $"{header.FileName}, record line", "no sampling frequency", "frames a second", $"{frequency}, as header(5) says");

        var finder = new SignalFileFinder(source.Folder, issues);
        var layout = header.SegmentCount is null
            ? RecordLayout.Ordinary(header, finder)
            : new SegmentFinder(headerSource, header, SamplingFrequency.Of(frequency, header.FrameCount ?? 0).Rate, name => Load(new RecordingSource(name, source.Folder), issues), finder, issues).Find();
        var rate = RateOf(frequency, layout, header, issues);
        NoteComments(header, issues);

        var described = layout.Signals.Select(s => new DescribedSignal(s.Index, s.Label, s.Unit, RateOf(s, rate))).ToList();
        var planned = Plan(described, layout, headerSource.Name, options, issues);
        var filled = Fill(planned, layout, rate, source.Folder, options, issues);
        var channels = new ChannelFinisher(issues, "header", () => SignalPlanner.Describe(described), options).Finish(filled);
        var annotations = AnnotationsBeside(headerSource, layout, rate, issues);
        // Samples of channels that nobody wanted are a recording all the same.
        bool isRecording = channels.Count > 0 || annotations.Count > 0 || (options.Wanted is not null && layout.Segments.Any(s => s.Files.Count > 0));
        if (!isRecording) NoteNothing(headerSource.Name, layout, issues);
        var recording = !isRecording ? null : new Recording(header.RecordName, header.Start, channels, options.SourceAveraging, annotations);
        return new ReadResult(recording, issues.ToList(), layout.Words);
    }

    private static bool Ends(string name, string ending) => name.EndsWith(ending, StringComparison.OrdinalIgnoreCase);

    // A table that somebody named .dat.
    private static bool LooksLikeText(ReadOnlySpan<byte> head)
    {
        foreach (byte b in head)
        {
            if (b < 32 && b is not ((byte)'\t' or (byte)'\r' or (byte)'\n')) return false;
        }

        return System.Text.Unicode.Utf8.IsValid(head) || head.IndexOf((byte)'\n') >= 0;
    }

    private static RecordingSource HeaderOf(RecordingSource source)
    {
        if (!DataEndings.Any(e => Ends(source.Name, e))) return source;
        string name = Path.GetFileNameWithoutExtension(source.Name) + HeaderEnding;
        using var stream = source.Folder.TryOpen(name);
        return stream is not null
            ? source with { Name = name }
            : throw new UnreadableFileException($"no {name} beside it", "the header of the record that the file belongs to", source.Name, "the header was not copied along, or bears another name: name that file instead");
    }

    private static WfdbHeader? Load(RecordingSource source, IssueLog issues)
    {
        using var stream = source.Folder.TryOpen(source.Name);
        return stream is null ? null : new HeaderParser(source.Name, issues).Parse(HeaderLines.Read(stream, source.Name));
    }

    private static SampleRate RateOf(decimal frequency, RecordLayout layout, WfdbHeader header, IssueLog issues)
    {
        var (rate, isSnapped) = SamplingFrequency.Of(frequency, layout.FrameCount);
        if ((Int128)layout.FrameCount * rate.Milliseconds > (Int128)SamplingFrequency.LongestMilliseconds * rate.Samples)
            throw new UnreadableFileException($"{layout.FrameCount} samples, {rate}", "a record of less than a century", header.FileName, "the sampling frequency in the record line was damaged");
        if (isSnapped)
            issues.Note(WfdbIssueCodes.RateSnapped, "", $"{header.FileName}, record line", $"{frequency} a second", "a rate without rounding", $"{rate}, of which it is the rounded decimal; no time moves by half a millisecond");
        return rate;
    }

    private static SampleRate RateOf(SignalLine signal, SampleRate rate) => SampleRate.Of(rate.Samples * (signal.SamplesPerFrame ?? 1), rate.Milliseconds);

    private static List<PlannedChannel> Plan(List<DescribedSignal> described, RecordLayout layout, string name, ReadOptions options, IssueLog issues)
    {
        var planned = new List<PlannedChannel>();
        foreach (var plan in new SignalPlanner(name, options, issues).Plan(described))
        {
            var signal = layout.Signals[plan.Index];
            var kind = plan.Kind;
            bool isUncalibrated = signal.Gain is null;
            if (isUncalibrated)
            {
                // A number that has no unit must not be compared with a limit, unless the user says what it is.
                if (!plan.IsAskedFor && !kind.MayBeCounts()) kind = ChannelKind.Other;
                issues.Doubt(WfdbIssueCodes.SignalUncalibrated, plan.Label, signal.Place, "no gain, or a gain of 0", "counts per unit", $"uncalibrated; {SignalLine.DefaultGain} per {IssueLog.Show(signal.Unit)}, as header(5) allows{(kind != plan.Kind ? $"; not taken as {plan.Kind}: if it is, name it with --map" : "")}");
            }

            if (kind == plan.Kind || options.Wanted is null || options.Wanted.Contains(kind)) planned.Add(plan with { Kind = kind });
        }

        if (planned.Count <= MostSignals) return planned;
        issues.Failure(WfdbIssueCodes.SignalTooMany, "", name, $"{planned.Count} signals", $"at most {MostSignals}", "the last ones are not read; name those you need with --map", planned.Count - MostSignals);
        return [.. planned.Where(p => p.IsAskedFor).Concat(planned.Where(p => !p.IsAskedFor)).Take(MostSignals).OrderBy(p => p.Index)];
    }

    private static List<FilledChannel> Fill(List<PlannedChannel> planned, RecordLayout layout, SampleRate rate, IRecordingFolder folder, ReadOptions options, IssueLog issues)
    {
        var assemblies = planned.Where(p => layout.Segments.Any(s => s.Find(p.Index) is not null))
            .Select(p => (Plan: p, Assembly: new ChannelAssembly(p, layout.Signals[p.Index], RateOf(layout.Signals[p.Index], rate), layout, issues))).ToList();
        long bytes = 0;
        foreach (var segment in layout.Segments)
        {
            foreach (var wanted in assemblies.Select(a => (a.Plan, a.Assembly, Part: segment.Find(a.Plan.Index))).Where(a => a.Part is not null).GroupBy(a => a.Part!.Value.File).ToList())
            {
                var file = wanted.Key;
                using var stream = folder.TryOpen(file.Name);
                if (stream is null) continue;
                var targets = new SignalTarget?[file.Signals.Count];
                var begun = new List<(ChannelAssembly Assembly, SignalTarget Target)>();
                foreach (var (plan, assembly, _) in wanted)
                {
                    if (assembly.Begin(segment) is not { } target) continue;
                    targets[segment.LineOf[plan.Index] - file.Signals[0].Index] = target;
                    begun.Add((assembly, target));
                }

                FrameReader.Read(stream, file, targets, read =>
                {
                    bytes += read;
                    options.Progress?.Invoke(bytes);
                });
                foreach (var (assembly, target) in begun) assembly.End(target);
            }
        }

        return [.. assemblies.Select(a => a.Assembly.Build()).OfType<FilledChannel>()];
    }

    // After the failures that name a cause: those of a signal or a segment say more.
    private static void NoteNothing(string name, RecordLayout layout, IssueLog issues)
    {
        bool isLayout = layout.Signals.Count > 0 && layout.Signals.All(s => s.FileName == SignalLine.Null);
        issues.Failure(WfdbIssueCodes.RecordNone, "", name, isLayout ? "signals without a file, and no annotations" : "no samples and no annotations", "at least one",
            isLayout ? "the header only lays out the signals of a record of segments, whose samples are missing or in other files" : "there is no recording");
    }

    private static void NoteComments(WfdbHeader header, IssueLog issues)
    {
        if (header.Comments.Count == 0) return;
        issues.Note(WfdbIssueCodes.HeaderComments, "", header.FileName, $"{header.Comments.Count} comment line{(header.Comments.Count == 1 ? "" : "s")}", "none that tell who the patient is",
            "not kept and not shown; comments of such headers may hold age, sex and diagnoses, which may identify a patient; the file itself still holds them");
    }

    private static IReadOnlyList<Annotation> AnnotationsBeside(RecordingSource header, RecordLayout layout, SampleRate rate, IssueLog issues)
    {
        string stem = Path.GetFileNameWithoutExtension(header.Name);
        var own = layout.Signals.Select(s => s.FileName).Concat(layout.Segments.SelectMany(s => s.Files).Select(f => f.Name)).Append(header.Name).Append(stem + RecordAnnotations.Ending).ToHashSet(StringComparer.Ordinal);
        foreach (string name in header.Folder.NamesBeginning(stem + ".").Where(n => !own.Contains(n)).Take(20))
            issues.Note(WfdbIssueCodes.FileBeside, name, name, "a file beside the record", $"the header, its signal files, and annotations in {stem}{RecordAnnotations.Ending}", "stands beside and is not read");
        var file = new RecordingSource(stem + RecordAnnotations.Ending, header.Folder);
        using var stream = header.Folder.TryOpen(file.Name);
        return stream is null ? [] : RecordAnnotations.Read(file, rate, issues);
    }
}
