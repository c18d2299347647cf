namespace Stillwatch.Oximetry.Streaming;

/// <summary>The beats that averaging windows still need, for the pulse rate.</summary>
internal sealed class BeatBoard
{
    /// <summary>An interval counts where both its beats are at least this good.</summary>
    public const double GoodQuality = States.BeatRing.GoodQuality;

    private Entry[] entries = new Entry[256];
    private double[] intervals = new double[256];
    private int count;

    private readonly record struct Entry(double Seconds, long SegmentFirstIndex, double Quality);

    public void Add(in Beat beat, long segmentFirstIndex)
    {
        if (count == entries.Length)
        {
            Array.Resize(ref entries, 2 * entries.Length);
            Array.Resize(ref intervals, entries.Length);
        }

        entries[count++] = new Entry(beat.UpstrokeSeconds, segmentFirstIndex, beat.Quality);
    }

    /// <summary>Intervals between good beats whose later beat lies in (from, to]; windows move forward only, and beats before them are forgotten.</summary>
    public Span<double> Intervals(double from, double to)
    {
        int old = 0;
        while (old < count && entries[old].Seconds <= from) old++;
        old = Math.Max(0, old - 1); // the beat before the window begins its first interval
        if (old > 0)
        {
            entries.AsSpan(old, count - old).CopyTo(entries);
            count -= old;
        }

        int found = 0;
        for (int i = 1; i < count; i++)
        {
            var (before, here) = (entries[i - 1], entries[i]);
            double interval = here.Seconds - before.Seconds;
            bool counts = here.Seconds > from && here.Seconds <= to && here.SegmentFirstIndex == before.SegmentFirstIndex && interval > 0
                && interval <= Segment.LongestPulseSeconds && before.Quality >= GoodQuality && here.Quality >= GoodQuality;
            if (counts) intervals[found++] = interval;
        }

        return intervals.AsSpan(0, found);
    }

    public void Clear() => count = 0;
}
