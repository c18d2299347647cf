namespace Stillwatch.Oximetry.Beats;

/// <summary>
/// Finds pulses in a band-passed signal that rises with blood volume. Fed in order, in any cutting; the pulses found do not depend on
/// the cutting. One segment without gaps at a time.
/// </summary>
public interface IBeatDetector
{
    /// <summary>The name of the method, with its source.</summary>
    string Name { get; }

    /// <summary>A pulse is written once so many samples after its peak have come, at the latest; but nothing before the first two seconds have.</summary>
    int LatencySamples { get; }

    /// <summary>Takes the next samples, and writes the pulses that are now certain.</summary>
    void Push(ReadOnlySpan<double> pulse, PulseList found);

    /// <summary>The segment ends: writes what is still open.</summary>
    void End(PulseList found);

    /// <summary>Forgets all: the next sample is the first, index 0, of a new segment.</summary>
    void Reset();
}

/// <summary>A pulse by the samples of its segment: the trough and the peak after it.</summary>
public readonly record struct PulseMark(long TroughIndex, long PeakIndex);

/// <summary>Pulses in order; its memory is used again.</summary>
public sealed class PulseList
{
    private PulseMark[] marks = new PulseMark[64];

    public int Count { get; private set; }

    public ReadOnlySpan<PulseMark> Marks => marks.AsSpan(0, Count);

    public void Add(PulseMark mark)
    {
        if (Count == marks.Length) Array.Resize(ref marks, marks.Length * 2);
        marks[Count++] = mark;
    }

    public void Clear() => Count = 0;
}
