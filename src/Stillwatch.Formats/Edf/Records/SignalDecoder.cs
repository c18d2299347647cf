using Stillwatch.Formats.Digital;
using Stillwatch.Formats.Edf.Header;
using Stillwatch.Formats.Labels;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Edf.Records;

/// <summary>Takes one signal's samples out of its bytes, record after record, and notes where its rows lie in time.</summary>
internal sealed class SignalDecoder
{
    private readonly EdfSignal signal;
    private readonly StandIns standIns;
    private readonly SampleSink sink;
    private readonly int bytesPerSample;
    private readonly (int Least, int Greatest) range;
    private readonly IssueLog issues;
    private readonly List<Stretch> stretches = [];
    private long origin;
    private long index;

    /// <param name="signal">What the header says of it.</param>
    /// <param name="plan">What channel it becomes.</param>
    /// <param name="offsetInRecord">In bytes.</param>
    /// <param name="bytesPerSample">2 or 3.</param>
    /// <param name="rate">Of its samples.</param>
    /// <param name="issues">Where oddities are listed.</param>
    public SignalDecoder(EdfSignal signal, PlannedChannel plan, long offsetInRecord, int bytesPerSample, SampleRate rate, IssueLog issues)
    {
        this.signal = signal;
        this.bytesPerSample = bytesPerSample;
        this.issues = issues;
        standIns = StandIns.Of(signal.Transducer);
        sink = new SampleSink(plan, signal.Calibration ?? Calibration.Counts, issues);
        Rate = rate;
        OffsetInRecord = offsetInRecord;
        range = signal.Calibration is null
            ? (int.MinValue, int.MaxValue)
            : ((int)Math.Min(signal.DigitalMinimum!.Value, signal.DigitalMaximum!.Value), (int)Math.Max(signal.DigitalMinimum.Value, signal.DigitalMaximum.Value));
    }

    public int BytesPerSample => bytesPerSample;

    public SampleRate Rate { get; }

    public long OffsetInRecord { get; }

    public long BytesInRecord => signal.SamplesPerRecord * bytesPerSample;

    /// <summary>Records follow that begin at a time of their own.</summary>
    /// <param name="milliseconds">On the recording's time line.</param>
    public void Begin(long milliseconds)
    {
        origin = milliseconds;
        index = 0;
    }

    /// <param name="bytes">Whole samples, the next ones in time.</param>
    /// <param name="buffer">At least as many numbers as samples; overwritten.</param>
    public void Add(ReadOnlySpan<byte> bytes, Span<int> buffer)
    {
        var samples = buffer[..(bytes.Length / bytesPerSample)];
        Widening.Widen(bytes, bytesPerSample, samples);
        if (standIns.Any)
        {
            AddRowByRow(samples);
            return;
        }

        var (least, greatest) = Widening.Ends(samples);
        if (least < range.Least || greatest > range.Greatest) NoteBeyondRange(samples);
        sink.Add(samples);
        Extend(samples.Length);
    }

    public FilledChannel Build(StretchAxes axes) => sink.Build(axes.Of(stretches, Rate, EdfConventions.PeriodOf(signal.Transducer)));

    private void AddRowByRow(Span<int> samples)
    {
        int kept = 0, sinceGap = 0;
        foreach (int sample in samples)
        {
            if (sample == standIns.NoRow)
            {
                Extend(sinceGap);
                sinceGap = 0;
                index++;
                continue;
            }

            samples[kept++] = sample == standIns.NoNumber ? CountColumn.Missing : sample;
            sinceGap++;
        }

        Extend(sinceGap);
        var rows = samples[..kept];
        NoteBeyondRange(rows);
        sink.Add(rows);
    }

    private void Extend(int rows)
    {
        if (rows == 0) return;
        bool goesOn = stretches.Count > 0 && stretches[^1].OriginMilliseconds == origin && stretches[^1].FirstIndex + stretches[^1].Count == index;
        if (goesOn) stretches[^1] = stretches[^1] with { Count = stretches[^1].Count + rows };
        else stretches.Add(new Stretch(origin, index, rows));
        index += rows;
    }

    // The header states the extreme counts that can occur. Recorders are careless about it, so the values stay.
    private void NoteBeyondRange(ReadOnlySpan<int> samples)
    {
        int beyond = 0, first = 0;
        foreach (int sample in samples)
        {
            if (sample == CountColumn.Missing || (sample >= range.Least && sample <= range.Greatest)) continue;
            if (beyond++ == 0) first = sample;
        }

        if (beyond == 0) return;
        issues.Note(EdfIssueCodes.SignalBeyondRange, $"{signal.Index}", signal.Place, $"a count of {first}", $"{range.Least} to {range.Greatest}, as the header says", "kept, with the value that the scale gives it", beyond);
    }
}
