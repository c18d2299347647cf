namespace Stillwatch.Oximetry.Streaming;

/// <summary>A pulse by the recording's sample indices, from its trough to the next trough (or where it is taken to end).</summary>
/// <param name="TroughIndex">Of its first sample.</param>
/// <param name="PeakIndex">Between the two.</param>
/// <param name="EndIndex">Of its last sample, the next pulse's first.</param>
/// <param name="Upstroke">Index where the rise is steepest, finer than a sample.</param>
/// <param name="SegmentFirstIndex">Tells pulses on both sides of a gap apart.</param>
internal readonly record struct FoundPulse(long TroughIndex, long PeakIndex, long EndIndex, double Upstroke, long SegmentFirstIndex)
{
    /// <summary>Where a rise is steepest, in samples from its first, by the parabola through the three steps around the steepest.</summary>
    /// <param name="rise">From trough to peak, both included; at least two samples.</param>
    public static double SteepestOf(ReadOnlySpan<double> rise)
    {
        int best = 1;
        double steepest = rise[1] - rise[0];
        for (int i = 2; i < rise.Length; i++)
        {
            double step = rise[i] - rise[i - 1];
            if (step <= steepest) continue;
            steepest = step;
            best = i;
        }

        if (best == 1 || best == rise.Length - 1) return best - 0.5;
        double before = rise[best - 1] - rise[best - 2], after = rise[best + 1] - rise[best];
        double bend = before - 2 * steepest + after;
        return best - 0.5 + (bend < 0 ? Math.Clamp((before - after) / (2 * bend), -0.5, 0.5) : 0);
    }
}

/// <summary>Pulses on their way from being found to being judged, first in, first out; its memory is used again.</summary>
internal sealed class FoundPulses
{
    private FoundPulse[] ring = new FoundPulse[64];
    private int first;

    public int Count { get; private set; }

    public ref readonly FoundPulse First => ref ring[first];

    public void Add(in FoundPulse pulse)
    {
        if (Count == ring.Length)
        {
            var larger = new FoundPulse[2 * ring.Length];
            for (int i = 0; i < Count; i++) larger[i] = ring[(first + i) % ring.Length];
            ring = larger;
            first = 0;
        }

        ring[(first + Count++) % ring.Length] = pulse;
    }

    public void RemoveFirst()
    {
        first = (first + 1) % ring.Length;
        Count--;
    }
}
