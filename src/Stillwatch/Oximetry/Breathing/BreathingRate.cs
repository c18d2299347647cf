namespace Stillwatch.Oximetry.Breathing;

/// <summary>
/// Respiratory rate from beats in the order of time, in windows side by side from second 0 on. Breathing changes the pulse in three ways: its baseline
/// (intensity), its amplitude, and the time between beats (frequency). The three are fused, or refused.
/// </summary>
/// <remarks>
/// The three variations: Karlen et al., IEEE Trans Biomed Eng 2013;60:1946. How they are read and fused here is <see cref="RateFusion"/>'s own. Rates lie from 4 to 70 a
/// minute, and below 0.475 of the pulse rate: breathing is seen once a beat, so above half of the pulse rate nothing can be told (Nyquist). A
/// window needs the beats of four seconds after its end, too, so its reading comes then, or at the end. The beats alone and <see cref="End"/>'s time
/// decide, however time is told between them. Allocates nothing after its start.
/// </remarks>
public sealed class BreathingRate
{
    /// <summary>Beats this far outside the window help to draw the series at its ends.</summary>
    internal const double MarginSeconds = 4;

    private const double LatestSeconds = 1e9; // thirty years: beyond it, time is a mistake, and its windows would never end
    private const int HeldBeats = 1024; // six beats a second in the longest window; more are no pulse

    private readonly double windowSeconds;
    private readonly IOximetrySink sink;
    private readonly Queue<Beat> beats = new(HeldBeats);
    private readonly Beat[] inWindow = new Beat[HeldBeats];
    private readonly RateFusion fusion;
    private double passedSeconds = double.NegativeInfinity;
    private double lastBeatSeconds = double.NegativeInfinity;
    private double crowdedTo = double.NegativeInfinity;
    private long window;
    private bool ended;

    /// <param name="windowSeconds">16 to 128 s.</param>
    /// <param name="sink">Takes the readings, one a window.</param>
    public BreathingRate(double windowSeconds, IOximetrySink sink)
    {
        ArgumentNullException.ThrowIfNull(sink);
        if (windowSeconds is not (>= 16 and <= 128)) throw new ArgumentOutOfRangeException(nameof(windowSeconds), windowSeconds, "Expected 16 to 128 s.");
        this.windowSeconds = windowSeconds;
        this.sink = sink;
        fusion = new RateFusion(windowSeconds);
    }

    /// <summary>The next beat. Its amplitude, baseline and quality may be NaN: such a beat counts for the time between beats alone.</summary>
    /// <exception cref="ArgumentException">Its time is no number, does not lie after the last beat's, or has passed already; or it lies beyond 10⁹ s.</exception>
    /// <exception cref="InvalidOperationException">The light has ended.</exception>
    public void Take(in Beat beat)
    {
        double seconds = beat.UpstrokeSeconds;
        if (!double.IsFinite(seconds) || seconds <= lastBeatSeconds || seconds < passedSeconds)
            throw new ArgumentException($"Found a beat at {seconds} s, expected one after {Math.Max(lastBeatSeconds, passedSeconds)} s. Likely cause: beats out of order.", nameof(beat));
        PassTo(seconds);
        lastBeatSeconds = seconds;
        if (beats.Count == HeldBeats) crowdedTo = beats.Dequeue().UpstrokeSeconds;
        beats.Enqueue(beat);
    }

    /// <summary>All beats before this time have been given. An earlier time than the last one says nothing new.</summary>
    /// <exception cref="ArgumentOutOfRangeException">No number, or beyond 10⁹ s.</exception>
    /// <exception cref="InvalidOperationException">The light has ended.</exception>
    public void PassTo(double seconds)
    {
        if (!(seconds <= LatestSeconds)) throw new ArgumentOutOfRangeException(nameof(seconds), seconds, "Expected at most 10⁹ s.");
        if (ended) throw new InvalidOperationException("Found time passing after the light's end, expected none.");
        if (seconds <= passedSeconds) return;
        passedSeconds = seconds;
        while (WindowEnd + MarginSeconds <= seconds) Close();
    }

    /// <summary>The light ends here: windows that end by then are given, a rest is not.</summary>
    public void End(double seconds)
    {
        PassTo(seconds);
        while (WindowEnd <= seconds) Close();
        ended = true;
    }

    private double WindowStart => window * windowSeconds;

    private double WindowEnd => (window + 1) * windowSeconds;

    private void Close()
    {
        var (start, end) = (WindowStart, WindowEnd);
        while (beats.Count > 0 && beats.Peek().UpstrokeSeconds < start - MarginSeconds) beats.Dequeue();
        int count = 0;
        foreach (var beat in beats)
        {
            if (beat.UpstrokeSeconds < end + MarginSeconds) inWindow[count++] = beat;
        }

        bool crowded = crowdedTo >= start - MarginSeconds;
        sink.Take(fusion.Read(start, crowded ? [] : inWindow.AsSpan(0, count)));
        window++;
    }
}
