using System.Numerics.Tensors;
using Stillwatch.Oximetry.Beats;

namespace Stillwatch.Oximetry.Streaming;

/// <summary>A stretch of samples without a gap: onto the timeline, through the band-pass, and pulses as their next trough becomes known.</summary>
internal sealed class Segment
{
    /// <summary>A pulse ends here at the latest where no other follows: slower than 30 a minute by a quarter.</summary>
    public const double LongestPulseSeconds = 2.5;

    private const double FootSeconds = 0.15;
    private const double LongestRiseSeconds = 0.6; // of the pulse that follows

    // A rise smaller than this part of all that the light moved is rounding, not blood.
    private const double LeastPart = 1e-9;

    private readonly StreamInput input;
    private readonly IBeatDetector detector;
    private readonly Timeline timeline;
    private readonly BandedSegment pulseBand;
    private readonly BandedSegment? redBand;
    private readonly FoundPulses found;
    private readonly PulseList marks = new();
    private readonly int longestPulseSamples;
    private readonly int waitSamples, footSamples;
    private double[] work = [];
    private double reference, redReference, lastRed, greatest;
    private bool hasReference, hasRedReference;
    private long firstIndex, detectedIndex;
    private PulseMark open;
    private bool hasOpen;

    public Segment(StreamInput input, IBeatDetector detector, Timeline timeline, FoundPulses found)
    {
        double rateHz = input.Rate.Hertz;
        this.input = input;
        this.detector = detector;
        this.timeline = timeline;
        this.found = found;
        footSamples = Math.Max(1, (int)Math.Round(FootSeconds * rateHz));
        pulseBand = new BandedSegment(rateHz, timeline.Pulse);
        redBand = timeline.Red is null ? null : new BandedSegment(rateHz, timeline.Red);
        longestPulseSamples = (int)(LongestPulseSeconds * rateHz);
        waitSamples = longestPulseSamples + detector.LatencySamples + (int)(LongestRiseSeconds * rateHz);
    }

    /// <summary>Samples from a pulse's trough until it is certain where it ends, at most; the band-pass included.</summary>
    public int LatencySamples => waitSamples + pulseBand.DelaySamples + 1;

    /// <summary>How far the band-pass looks to either side.</summary>
    public int BandSamples => pulseBand.DelaySamples;

    /// <summary>A new segment begins with the sample of this index of the recording.</summary>
    public void Begin(long index)
    {
        firstIndex = detectedIndex = index;
        hasOpen = hasReference = hasRedReference = false;
        lastRed = greatest = 0;
        timeline.RawPulse.SkipTo(index);
        timeline.RawRed?.SkipTo(index);
        pulseBand.Begin(index);
        redBand?.Begin(index);
        detector.Reset();
    }

    /// <summary>Samples that follow on those before; red may be NaN, the pulse may not.</summary>
    public void Append(ReadOnlySpan<double> pulse, ReadOnlySpan<double> red)
    {
        if (work.Length < pulse.Length) work = new double[pulse.Length];
        var blood = work.AsSpan(0, pulse.Length);
        timeline.RawPulse.Append(pulse);
        ToBlood(pulse, blood);
        if (!hasReference) reference = blood[0];
        hasReference = true;
        TensorPrimitives.Subtract(blood, reference, blood); // a steady light is then exactly nothing
        greatest = Math.Max(greatest, Math.Max(TensorPrimitives.Max(blood), -TensorPrimitives.Min(blood)));
        pulseBand.Append(blood);
        if (redBand is not null)
        {
            timeline.RawRed!.Append(red);
            RedToBlood(red, blood);
            redBand.Append(blood);
        }

        Detect();
        Complete(isEnd: false);
    }

    /// <summary>The segment ends here.</summary>
    public void End()
    {
        pulseBand.End();
        redBand?.End();
        Detect();
        detector.End(marks);
        Complete(isEnd: true);
    }

    private void Detect()
    {
        int fresh = (int)(timeline.Pulse.EndIndex - detectedIndex);
        if (fresh > 0) detector.Push(timeline.Pulse.Slice(detectedIndex, fresh), marks);
        detectedIndex += fresh;
    }

    private void Complete(bool isEnd)
    {
        foreach (var marked in marks.Marks)
        {
            var mark = marked with { TroughIndex = Foot(marked) };
            if (hasOpen) Finish(firstIndex + mark.TroughIndex);
            open = mark;
            hasOpen = true;
        }

        marks.Clear();
        if (hasOpen && (isEnd || detectedIndex > firstIndex + open.TroughIndex + waitSamples))
        {
            Finish(detectedIndex - 1);
            hasOpen = false;
        }
    }

    /// <summary>
    /// The foot of the rise: the lowest sample shortly before it is steepest, and further back while the series falls. A notch behind the pulse before may be
    /// lower; to begin there would make beats of unlike length.
    /// </summary>
    private long Foot(PulseMark mark)
    {
        // A rise longer than a pulse is none, and its beginning may be out of sight already.
        long trough = Math.Max(mark.TroughIndex, mark.PeakIndex - longestPulseSamples);
        var rise = timeline.Pulse.Slice(firstIndex + trough, (int)(mark.PeakIndex - trough) + 1);
        int steepest = (int)Math.Ceiling(FoundPulse.SteepestOf(rise)), foot = steepest;
        for (int i = steepest - 1; i >= 0; i--)
        {
            if (steepest - i > footSamples && !(i == foot - 1 && rise[i] < rise[foot])) break;
            if (rise[i] < rise[foot]) foot = i;
        }

        return trough + foot;
    }

    private void Finish(long nextTroughIndex)
    {
        long trough = firstIndex + open.TroughIndex, peak = firstIndex + open.PeakIndex;
        long end = Math.Min(nextTroughIndex, trough + longestPulseSamples);
        if (peak <= trough || peak >= end) return;
        var rise = timeline.Pulse.Slice(trough, (int)(peak - trough) + 1);
        if (!(rise[^1] - rise[0] > LeastPart * greatest)) return;
        found.Add(new FoundPulse(trough, peak, end, trough + FoundPulse.SteepestOf(rise), firstIndex));
    }

    private void ToBlood(ReadOnlySpan<double> values, Span<double> blood)
    {
        if (input.IsLight) TensorPrimitives.Log(values, blood);
        else values.CopyTo(blood);
        if (input.FallsWithBlood) TensorPrimitives.Negate(blood, blood);
    }

    private void RedToBlood(ReadOnlySpan<double> red, Span<double> blood)
    {
        ToBlood(red, blood);
        for (int i = 0; i < blood.Length; i++)
        {
            if (double.IsFinite(red[i]))
            {
                if (!hasRedReference) redReference = blood[i];
                hasRedReference = true;
                lastRed = blood[i] - redReference;
            }

            blood[i] = lastRed;
        }
    }
}
