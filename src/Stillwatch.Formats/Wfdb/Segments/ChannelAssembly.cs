using Stillwatch.Formats.Digital;
using Stillwatch.Formats.Labels;
using Stillwatch.Formats.Wfdb.Header;
using Stillwatch.Formats.Wfdb.Samples;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Wfdb.Segments;

/// <summary>
/// Puts one channel together from the segments that have samples of it. Short gaps are filled with samples without a number, so that the
/// axis stays even; where gaps make up most of the time, they are left out of the axis: memory grows with what the files hold, not with what a header claims.
/// </summary>
internal sealed class ChannelAssembly
{
    // Filled up to this many times what is there.
    private const int MostFilling = 4;

    private readonly PlannedChannel plan;
    private readonly SampleRate rate;
    private readonly int perFrame;
    private readonly long frames;
    private readonly bool fills;
    private readonly SampleSink sink;
    private readonly IReadOnlyDictionary<Calibration, CountScale>? scales;
    private readonly bool asDecimals;
    private readonly IssueLog issues;
    private readonly List<(long First, long Count)> stretches = []; // in samples

    /// <param name="plan">The channel.</param>
    /// <param name="signal">Its line in the layout.</param>
    /// <param name="rate">Of its samples.</param>
    /// <param name="layout">The record.</param>
    /// <param name="issues">Where what was assumed is listed.</param>
    public ChannelAssembly(PlannedChannel plan, SignalLine signal, SampleRate rate, RecordLayout layout, IssueLog issues)
    {
        this.plan = plan;
        this.rate = rate;
        this.issues = issues;
        perFrame = signal.SamplesPerFrame ?? 1;
        frames = layout.FrameCount;
        var parts = layout.Segments.Select(s => s.Find(plan.Index)).OfType<(SignalFile File, SignalLine Line)>().ToList();
        long present = parts.Sum(p => p.File.FrameCount) * perFrame;
        fills = frames * (Int128)perFrame <= Math.Min(int.MaxValue, MostFilling * present + TimeAxis.ChunkLength);
        var calibrations = parts.Select(p => (p.Line.Calibration, p.File.Format)).Distinct().ToList();
        var first = calibrations.Count > 0 ? calibrations[0].Calibration : signal.Calibration;
        if (calibrations.Select(c => c.Calibration).Distinct().Count() > 1 && plan.Kind.MayBeCounts())
        {
            var common = CommonCalibration.Find(calibrations);
            NoteChange(signal, calibrations.Select(c => c.Calibration).Distinct().Count(), common?.Common);
            scales = common?.Scales;
            asDecimals = common is null;
            first = common?.Common ?? first;
        }

        sink = new SampleSink(plan, first, issues, asDecimals);
    }

    /// <summary>Where the samples of the next segment go; null where it has none of this channel, or they find no place on the axis.</summary>
    public SignalTarget? Begin(PlacedSegment segment)
    {
        if (segment.Find(plan.Index) is not var (file, line)) return null;
        long first = segment.StartFrame * perFrame;
        long end = stretches.Count > 0 ? stretches[^1].First + stretches[^1].Count : 0;
        if (fills)
        {
            sink.AddMissing((int)(first - end));
        }
        else if ((stretches.Count > 0 && end != first && !rate.IsOnePerMillisecondAtMost) || sink.Count + file.FrameCount * perFrame > int.MaxValue)
        {
            issues.Failure(WfdbIssueCodes.SegmentGap, plan.Label, $"segment {IssueLog.Show(segment.Name)}, signal {IssueLog.Show(plan.Label)}", "a gap longer than all samples, at more than 1000 a second", "a shorter gap or a lower rate", "this segment's samples are not read");
            return null;
        }

        var calibration = line.Calibration;
        if (scales is null && !(plan.Kind.MayBeCounts() && !asDecimals)) sink.Recalibrate(calibration);
        stretches.Add((first, 0));
        return new SignalTarget(line, file, sink, scales is null ? CountScale.None : scales[calibration], issues);
    }

    /// <summary>After the segment's last sample.</summary>
    public void End(SignalTarget target)
    {
        target.Finish();
        long first = stretches[^1].First;
        stretches[^1] = (first, target.Taken);
    }

    /// <summary>Null where there is no sample of it.</summary>
    public FilledChannel? Build()
    {
        if (stretches.Count == 0) return null;
        if (!fills) return sink.Build(Uneven());
        long end = stretches[^1].First + stretches[^1].Count;
        sink.AddMissing((int)(frames * perFrame - end));
        return sink.Build(TimeAxis.Even(default, rate, sink.Count));
    }

    private TimeAxis Uneven()
    {
        NoteGaps();
        if (stretches.Count == 1 && stretches[0].First == 0) return TimeAxis.Even(default, rate, (int)stretches[0].Count);
        if (stretches.Count == 1) return TimeAxis.Even(new SampleTime(rate.MillisecondsAt(stretches[0].First)), rate, (int)stretches[0].Count);
        var times = new TimeAxis.Builder();
        foreach (var (first, count) in stretches)
        {
            for (long i = first; i < first + count; i++) times.Add(rate.MillisecondsAt(i));
        }

        return times.Build(rate.Period);
    }

    private void NoteGaps()
    {
        long held = stretches.Sum(s => s.Count);
        issues.Note(WfdbIssueCodes.SegmentGap, plan.Label, $"signal {IssueLog.Show(plan.Label)}", $"{held} samples of {frames * (Int128)perFrame} in the record, in {stretches.Count} stretch{(stretches.Count == 1 ? "" : "es")}", "samples all along", "the times between have no rows");
    }

    private void NoteChange(SignalLine signal, int count, Calibration? common)
    {
        if (common is not null)
            issues.Note(WfdbIssueCodes.SignalCalibrationChanges, plan.Label, signal.Place, $"{count} calibrations in the segments", "one", $"counts on the scale common to all, {common.Denominator / common.Numerator:0.######} per {IssueLog.Show(signal.Unit)}: exact");
        else
            issues.Doubt(WfdbIssueCodes.SignalCalibrationChanges, plan.Label, signal.Place, $"{count} calibrations in the segments, with no common scale within 32 bits", "one", $"values in {IssueLog.Show(signal.Unit)}, each rounded once to the nearest millionth");
    }
}
