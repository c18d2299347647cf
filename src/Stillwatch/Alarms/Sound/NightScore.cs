using Stillwatch.Time;

namespace Stillwatch.Alarms.Sound;

/// <summary>An alarm signal to be heard.</summary>
/// <param name="Span">When it was active, on the time line of the whole score.</param>
/// <param name="Priority">The highest that it reached.</param>
public readonly record struct HeardSignal(TimeSlice Span, AlarmPriority Priority);

/// <summary>A burst of the score.</summary>
/// <param name="Start">From the start of the sound.</param>
/// <param name="Priority">Which pattern.</param>
public readonly record struct ScoredBurst(Duration Start, AlarmPriority Priority);

/// <summary>
/// Hours of alarm signals pressed into a minute of sound. Time runs faster than the night did; a burst runs faster too, but only so much
/// that its pulses can still be counted. A signal sounds at least one whole burst, and repeats it for as long as its part of the minute lasts.
/// </summary>
/// <remarks>For listening to a recording, never for alarming: nothing in it comes when it happened.</remarks>
public sealed record NightScore
{
    /// <summary>A burst is played so many times faster than at the bedside. Our own choice: of a high burst, 30 ms a pulse is left.</summary>
    public const int BurstsFaster = 4;

    public static readonly Duration Minute = Duration.FromSeconds(60);

    private NightScore(TimeSlice span, Duration length, int signals, IReadOnlyList<ScoredBurst> bursts)
    {
        Span = span;
        Length = length;
        Signals = signals;
        Bursts = bursts;
    }

    /// <summary>The hours that are heard.</summary>
    public TimeSlice Span { get; }

    /// <summary>Of the sound.</summary>
    public Duration Length { get; }

    /// <summary>Signals in it.</summary>
    public int Signals { get; }

    /// <summary>By start.</summary>
    public IReadOnlyList<ScoredBurst> Bursts { get; }

    /// <summary>So many times faster than it happened.</summary>
    public double TimesFaster => Span.Length.Seconds / Length.Seconds;

    /// <param name="signals">In any order; what lies outside the span is cut or left out, and silent priorities are left out.</param>
    /// <param name="span">The hours to press together.</param>
    /// <param name="length">Into how much sound; a span that is shorter is heard as long as it lasted.</param>
    /// <exception cref="ArgumentException">An empty span, or no length.</exception>
    public static NightScore Of(IEnumerable<HeardSignal> signals, TimeSlice span, Duration length)
    {
        if (span.Length <= Duration.Zero) throw new ArgumentException($"Span: found {span.Length}, expected time to listen to.", nameof(span));
        if (length <= Duration.Zero) throw new ArgumentException($"Length: found {length}, expected more than none.", nameof(length));
        if (span.Length < length) length = span.Length;
        var bursts = new List<ScoredBurst>();
        int heard = 0;
        foreach (var signal in signals)
        {
            if (BurstPatterns.Of(signal.Priority) is not { } pattern || signal.Span.Start >= span.End || signal.Span.End <= span.Start) continue;
            heard++;
            long from = Pressed(signal.Span.Start, span, length), to = Pressed(signal.Span.End, span, length);
            long burst = pattern.Length.Milliseconds / BurstsFaster;
            // What begins at the very end is still heard whole.
            from = Math.Max(0, Math.Min(from, length.Milliseconds - burst));
            bursts.Add(new ScoredBurst(new Duration(from), signal.Priority));
            if (pattern.Interburst is not { } pause) continue;
            long every = burst + pause.Milliseconds / BurstsFaster;
            for (long at = from + every; at + burst <= Math.Min(to, length.Milliseconds); at += every) bursts.Add(new ScoredBurst(new Duration(at), signal.Priority));
        }

        return new NightScore(span, length, heard, [.. bursts.OrderBy(b => b.Start).ThenByDescending(b => b.Priority)]);
    }

    private static long Pressed(SampleTime time, TimeSlice span, Duration length) =>
        (long)((Int128)Math.Clamp((time - span.Start).Milliseconds, 0, span.Length.Milliseconds) * length.Milliseconds / span.Length.Milliseconds);
}
