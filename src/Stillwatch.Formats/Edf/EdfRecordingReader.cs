using System.Buffers;
using System.Globalization;
using Stillwatch.Formats.Edf.Header;
using Stillwatch.Formats.Edf.Notes;
using Stillwatch.Formats.Edf.Records;
using Stillwatch.Formats.Labels;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Edf;

/// <summary>
/// EDF, EDF+C, EDF+D, BDF and BDF+. EDF: Kemp et al., Electroencephalogr Clin Neurophysiol 82:391 (1992); EDF+: Kemp and Olivan, Clin
/// Neurophysiol 114:1755 (2003); both at edfplus.info/specs. BDF is EDF with 24-bit samples and its own version field.
/// </summary>
/// <remarks>
/// Each signal is a channel at its own exact rate. The time line begins with the first data record. Gaps of a discontinuous file have no
/// rows. What the header says of persons is not kept.
/// </remarks>
public sealed class EdfRecordingReader : IRecordingReader
{
    private const long ProgressBytes = 1 << 22;

    // A separate call for a piece pays where it saves copying this much; more where each call may have to wait for the disk.
    private static readonly long WorthSkippingBytes = ReadAdvice.IsThere ? 1 << 13 : 1 << 16;

    public string Formats => "EDF and BDF";

    public IReadOnlyList<string> Extensions => [".edf", ".bdf", ".rec"];

    public bool Recognises(ReadOnlySpan<byte> head, string name) => EdfVersion.Recognises(head, name);

    public ReadResult Read(RecordingSource source, ReadOptions options)
    {
        var issues = new IssueLog();
        using var stream = source.Open();
        var header = EdfHeaderReader.Read(stream, source.Name, issues);
        var layout = RecordLayout.Of(header, stream.Length, issues);
        var notes = NotePass.Read(header, layout, Window(header.NoteSignals.Sum(s => s.SamplesPerRecord), header.NoteSignals.Count()), issues);
        var times = RecordTimes.Of(header, layout, notes, issues);
        var start = EdfStart.Of(header, times.OriginNanoseconds / 1_000_000_000m, issues);

        var rates = RatesOf(header, issues);
        var described = rates.Select(r => new DescribedSignal(r.Signal.Index, r.Signal.Label, r.Signal.Calibration is null ? "" : r.Signal.Unit, r.Rate)).ToList();
        var planned = WithoutScale(new SignalPlanner(source.Name, options, issues).Plan(described), header, source.Name, options, issues);
        var decoders = Decoders(planned, header, rates, issues);
        RefuseMoreRowsThanFit(decoders, header, layout, source.Name);
        Decode(decoders, layout, times, Window(planned.Sum(p => header.Signals[p.Index].SamplesPerRecord), planned.Count), options);

        var axes = new StretchAxes();
        var filled = decoders.ConvertAll(d => d.Build(axes));
        string format = FormatOf(header, layout);
        if (notes.Count == 0 && (rates.Count == 0 || times.Runs.Count == 0 || (filled.Count > 0 && filled.TrueForAll(f => f.Times.Count == 0))))
        {
            issues.Failure(EdfIssueCodes.RecordNone, "", source.Name, "no samples that have a time, and no annotations", "at least one", "there is no recording");
            return new ReadResult(null, issues.ToList(), format);
        }

        var channels = new ChannelFinisher(issues, "header", () => SignalPlanner.Describe(described), options).Finish(filled);
        var recording = new Recording(source.Name, start, channels, AveragingOf(header, options), notes.ToAnnotations(times.OriginNanoseconds));
        return new ReadResult(recording, issues.ToList(), format);

        ByteWindow Window(long samples, int pieces) =>
            new(stream, source.Name, layout.RecordBytes - samples * header.BytesPerSample < Math.Max(1, pieces) * WorthSkippingBytes);
    }

    // The user's word before the file's.
    private static SourceAveraging AveragingOf(EdfHeader header, ReadOptions options) =>
        options.SourceAveraging.IsKnown || EdfConventions.AveragingOf(header.Subfields) is not { } window ? options.SourceAveraging : new SourceAveraging(window);

    private static string FormatOf(EdfHeader header, RecordLayout layout)
    {
        string length = header.RecordSeconds is > 0 and var seconds ? string.Create(CultureInfo.InvariantCulture, $" of {seconds:0.#########} s") : "";
        string part = layout.PartBytes > 0 ? " and a part of one" : "";
        return $"{header.Format}, {layout.WholeCount} data record{(layout.WholeCount == 1 ? "" : "s")}{length}{part}";
    }

    // Without a length of the records there is no rate, and without a rate no sample has a time.
    private static List<(EdfSignal Signal, SampleRate Rate)> RatesOf(EdfHeader header, IssueLog issues)
    {
        var signals = header.Signals.Where(s => !s.IsNotes && s.SamplesPerRecord > 0).ToList();
        if (signals.Count == 0) return [];
        if (header.RecordSeconds is >= 0.000_000_001m and <= 1_000_000_000m and var seconds) return signals.ConvertAll(s => (s, SampleRate.Of(s.SamplesPerRecord, seconds)));
        issues.Failure(EdfIssueCodes.RecordDuration, "", HeaderFields.Place(EdfFields.RecordDuration), header.RecordSeconds is { } given ? given.ToString(CultureInfo.InvariantCulture) : "no number",
            "seconds above 0 (0 only where all signals are annotations)", "no sample has a time, so no signal is used");
        return [];
    }

    // Numbers that a rule would judge need a unit; counts have none.
    private static List<PlannedChannel> WithoutScale(IReadOnlyList<PlannedChannel> planned, EdfHeader header, string name, ReadOptions options, IssueLog issues)
    {
        var kept = new List<PlannedChannel>();
        foreach (var plan in planned)
        {
            var signal = header.Signals[plan.Index];
            if (signal.Calibration is not null || plan.Kind.MayBeCounts())
            {
                kept.Add(plan);
                continue;
            }

            if (plan.IsAskedFor)
                throw new UnreadableFileException($"{signal.Place} without a scale from counts to a unit", $"a scale, for {plan.Kind} is judged in its unit", $"{name}, header", "the header is damaged, or the recorder did not calibrate this signal");
            issues.Doubt(EdfIssueCodes.SignalNoScale, $"{signal.Index} kind", $"header, {signal.Place}", $"a label that means {plan.Kind}, without a scale", "a scale from counts to its unit", "not taken as such");
            if (options.Wanted is null || options.Wanted.Contains(ChannelKind.Other)) kept.Add(plan with { Kind = ChannelKind.Other });
        }

        return kept;
    }

    private static List<SignalDecoder> Decoders(List<PlannedChannel> planned, EdfHeader header, List<(EdfSignal Signal, SampleRate Rate)> rates, IssueLog issues)
    {
        var offsets = new long[header.Signals.Count];
        for (int i = 1; i < offsets.Length; i++) offsets[i] = offsets[i - 1] + header.Signals[i - 1].SamplesPerRecord * header.BytesPerSample;
        var rateOf = rates.ToDictionary(r => r.Signal.Index, r => r.Rate);
        return planned.ConvertAll(p => new SignalDecoder(header.Signals[p.Index], p, offsets[p.Index], header.BytesPerSample, rateOf[p.Index], issues));
    }

    private static void RefuseMoreRowsThanFit(List<SignalDecoder> decoders, EdfHeader header, RecordLayout layout, string name)
    {
        foreach (var decoder in decoders)
        {
            decimal rows = (decimal)layout.Count * decoder.BytesInRecord / header.BytesPerSample;
            if (rows > int.MaxValue)
                throw new UnreadableFileException($"{rows:0} samples in one signal", $"at most {int.MaxValue}", name, "the recording is longer than this program holds; cut it into parts");
        }
    }

    private static void Decode(List<SignalDecoder> decoders, RecordLayout layout, RecordTimes times, ByteWindow window, ReadOptions options)
    {
        if (decoders.Count == 0) return;
        int[] buffer = ArrayPool<int>.Shared.Rent(ByteWindow.PieceBytes / 2);
        long reported = 0;
        foreach (var run in times.Runs)
        {
            long milliseconds = NotePass.ToMilliseconds(run.StartNanoseconds - times.OriginNanoseconds);
            foreach (var decoder in decoders) decoder.Begin(milliseconds);
            for (long record = run.FirstRecord; record < run.FirstRecord + run.Count; record++)
            {
                foreach (var decoder in decoders) DecodeRecord(decoder, layout, record, window, buffer);
                long position = layout.PositionOf(record + 1, 0);
                if (position - reported < ProgressBytes) continue;
                options.Progress?.Invoke(position);
                reported = position;
            }
        }

        ArrayPool<int>.Shared.Return(buffer);
    }

    private static void DecodeRecord(SignalDecoder decoder, RecordLayout layout, long record, ByteWindow window, int[] buffer)
    {
        long there = layout.BytesThere(record, decoder.OffsetInRecord, decoder.BytesInRecord);
        long whole = there - there % decoder.BytesPerSample;
        for (long done = 0; done < whole;)
        {
            int piece = (int)Math.Min(ByteWindow.PieceBytes, whole - done);
            decoder.Add(window.Read(layout.PositionOf(record, decoder.OffsetInRecord + done), piece), buffer);
            done += piece;
        }
    }
}
