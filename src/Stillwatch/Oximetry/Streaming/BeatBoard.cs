namespace Stillwatch.Oximetry.Streaming;

/// <summary>The latest beats, handed on as they come and kept for as long as a reading may look back.</summary>
internal sealed class BeatBoard(IOximetrySink sink)
{
    private Beat[] beats = new Beat[256];
    private int count;

    public ReadOnlySpan<Beat> Beats => beats.AsSpan(0, count);

    public void Add(in Beat beat)
    {
        if (count == beats.Length) Array.Resize(ref beats, beats.Length * 2);
        beats[count++] = beat;
        sink.Take(beat);
    }

    /// <summary>Beats before this time are not asked for again.</summary>
    public void ForgetBefore(double seconds)
    {
        int old = 0;
        while (old < count && beats[old].UpstrokeSeconds < seconds) old++;
        if (old < 64) return;
        beats.AsSpan(old, count - old).CopyTo(beats);
        count -= old;
    }
}
