using System.Numerics.Tensors;
using Stillwatch.Dsp;
using Stillwatch.Oximetry.Beats;

namespace Stillwatch.Oximetry.Streaming;

/// <summary>A stretch of samples without a gap: band-pass, detector, and beats one after the other as their next trough becomes known.</summary>
internal sealed class Segment
{
    /// <summary>A beat's span ends here at the latest where no other beat follows: 30 a minute, with room.</summary>
    public const double LongestBeatSeconds = 2.5;

    private readonly StreamInput input;
    private readonly SecondGrid grid;
    private readonly IBeatDetector detector;
    private readonly BandedSegment pulseBand;
    private readonly BandedSegment? redBand;
    private readonly SlidingSamples pulseRaw, redRaw;
    private readonly PulseList marks = new();
    private readonly BeatMeasure measure;
    private readonly BeatBoard board;
    private readonly int longestBeatSamples;
    private double[] work = [];
    private double reference, redReference;
    private bool hasReference, hasRedReference;
    private long firstIndex, detected;
    private PulseMark open;
    private bool hasOpen;

    public Segment(StreamInput input, SecondGrid grid, IBeatDetector detector, BeatBoard board, int keptSamples)
    {
        this.input = input;
        this.grid = grid;
        this.detector = detector;
        this.board = board;
        pulseBand = new BandedSegment(grid.RateHz, keptSamples);
        redBand = input.HasRed ? new BandedSegment(grid.RateHz, keptSamples) : null;
        pulseRaw = new SlidingSamples(keptSamples);
        redRaw = new SlidingSamples(keptSamples);
        measure = new BeatMeasure(input, grid, pulseBand, redBand, pulseRaw, redRaw);
        longestBeatSamples = (int)(LongestBeatSeconds * grid.RateHz);
    }

    /// <summary>A new segment begins with the sample of this index of the recording.</summary>
    public void Begin(long index)
    {
        firstIndex = index;
        detected = 0;
        hasOpen = hasReference = hasRedReference = false;
        pulseBand.Reset();
        redBand?.Reset();
        pulseRaw.Reset();
        redRaw.Reset();
        detector.Reset();
        measure.Reset(index);
    }

    /// <summary>Samples that follow on those before; red may be NaN, the pulse may not.</summary>
    public void Append(ReadOnlySpan<double> pulse, ReadOnlySpan<double> red)
    {
        if (work.Length < pulse.Length) work = new double[pulse.Length];
        var blood = work.AsSpan(0, pulse.Length);
        pulseRaw.Append(pulse);
        ToBlood(pulse, blood);
        if (!hasReference) reference = blood[0];
        hasReference = true;
        TensorPrimitives.Subtract(blood, reference, blood); // a steady light is then exactly nothing
        pulseBand.Append(blood);
        if (redBand is not null)
        {
            redRaw.Append(red);
            RedToBlood(red, blood);
            redBand.Append(blood);
        }

        Detect();
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
        int fresh = (int)(pulseBand.Count - detected);
        if (fresh > 0) detector.Push(pulseBand.Slice(detected, fresh), marks);
        detected += fresh;
        Complete(isEnd: false);
    }

    private void Complete(bool isEnd)
    {
        foreach (var mark in marks.Marks)
        {
            if (hasOpen) Finish(mark.TroughIndex);
            open = mark;
            hasOpen = true;
        }

        marks.Clear();
        if (hasOpen && (isEnd || pulseBand.Count >= open.TroughIndex + longestBeatSamples))
        {
            Finish(pulseBand.Count);
            hasOpen = false;
        }
    }

    private void Finish(long nextTrough)
    {
        long end = Math.Min(nextTrough, open.TroughIndex + longestBeatSamples);
        if (measure.TryMeasure(open, end, out var beat)) board.Add(beat);
    }

    private void ToBlood(ReadOnlySpan<double> values, Span<double> blood)
    {
        if (input.IsLight) TensorPrimitives.Log(values, blood);
        else values.CopyTo(blood);
        if (input.FallsWithBlood) TensorPrimitives.Negate(blood, blood);
    }

    private void RedToBlood(ReadOnlySpan<double> red, Span<double> blood)
    {
        if (TensorPrimitives.Min(red) > 0 && TensorPrimitives.Max(red) <= Intake.GreatestMagnitude && hasRedReference)
        {
            ToBlood(red, blood);
            TensorPrimitives.Subtract(blood, redReference, blood);
            return;
        }

        double last = 0;
        for (int i = 0; i < red.Length; i++)
        {
            if (red[i] > 0 && red[i] <= Intake.GreatestMagnitude)
            {
                double value = input.IsLight ? Math.Log(red[i]) : red[i];
                if (input.FallsWithBlood) value = -value;
                if (!hasRedReference) redReference = value;
                hasRedReference = true;
                last = value - redReference;
            }

            blood[i] = last;
        }
    }
}
