using Stillwatch.Dsp;

namespace Stillwatch.Oximetry.Streaming;

/// <summary>
/// One channel of one segment after the pulse's band-pass, sample for sample. The edges are mirrored: before the first sample the segment is taken to
/// run backwards, and likewise after the last, so that neither the level nor its mean steps there. A segment shorter than the band-pass looks to one
/// side gives nothing.
/// </summary>
/// <param name="rateHz">Of the samples.</param>
/// <param name="passed">Where the output goes.</param>
internal sealed class BandedSegment(double rateHz, SlidingSamples passed)
{
    private readonly PulseBand band = new(rateHz);
    private double[] recent = []; // the first samples until there are enough to mirror; then the latest ones, as a ring
    private double[] work = [];
    private int recentCount;
    private long taken;
    private int unwanted;

    /// <summary>How many samples the band-pass looks to either side, and so how late its output is.</summary>
    public int DelaySamples => band.DelaySamples;

    /// <summary>The next sample is the first of a new segment, and has this index.</summary>
    public void Begin(long index)
    {
        band.Reset();
        passed.SkipTo(index);
        recentCount = 0;
        taken = 0;
        unwanted = 2 * band.DelaySamples;
        if (recent.Length == 0) recent = new double[band.DelaySamples + 1];
    }

    public void Append(ReadOnlySpan<double> samples)
    {
        int need = recent.Length;
        if (taken < need)
        {
            int first = Math.Min(samples.Length, need - (int)taken);
            samples[..first].CopyTo(recent.AsSpan((int)taken));
            taken += first;
            recentCount = (int)taken;
            samples = samples[first..];
            if (taken < need) return;
            Mirror(recent, isStart: true);
            Push(recent);
        }

        if (samples.Length == 0) return;
        Push(samples);
        taken += samples.Length;
        if (samples.Length >= need)
        {
            samples[^need..].CopyTo(recent);
        }
        else
        {
            recent.AsSpan(samples.Length).CopyTo(recent);
            samples.CopyTo(recent.AsSpan(need - samples.Length));
        }
    }

    /// <summary>No more samples: the last outputs come out.</summary>
    public void End()
    {
        if (taken >= recent.Length) Mirror(recent.AsSpan(0, recentCount), isStart: false);
    }

    private void Mirror(ReadOnlySpan<double> edge, bool isStart)
    {
        int length = edge.Length - 1;
        if (work.Length < length) work = new double[length];
        var mirrored = work.AsSpan(0, length);
        (isStart ? edge[1..] : edge[..^1]).CopyTo(mirrored);
        mirrored.Reverse();
        Push(mirrored);
    }

    private void Push(ReadOnlySpan<double> samples)
    {
        if (unwanted > 0)
        {
            int skip = Math.Min(unwanted, samples.Length);
            Span<double> none = stackalloc double[64];
            while (skip > 0)
            {
                int length = Math.Min(skip, none.Length);
                band.Push(samples[..length], none[..length]);
                samples = samples[length..];
                unwanted -= length;
                skip -= length;
            }
        }

        if (samples.Length > 0) band.Push(samples, passed.Extend(samples.Length));
    }
}
