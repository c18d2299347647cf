using Stillwatch.Time;

namespace Stillwatch.Tuning.Proposals;

/// <summary>One part of an event under every candidate.</summary>
/// <param name="Length">Onset to end.</param>
/// <param name="Within">T of R13.</param>
/// <param name="MillisecondsToSignal">Per candidate: from onset to the first instant a signal is active; −1: never before the end.</param>
public sealed record PartEvidence(Duration Length, Duration Within, int[] MillisecondsToSignal);

/// <summary>One event, certain or only possible, under every candidate. The worst of its parts is the event's.</summary>
public sealed record EventEvidence(string Recording, SampleTime Onset, SampleTime End, string Because, IReadOnlyList<PartEvidence> Parts)
{
    public bool IsMissed(int candidate)
    {
        foreach (var part in Parts)
            if (part.MillisecondsToSignal[candidate] < 0) return true;
        return false;
    }

    /// <summary>Signalled, but after onset + T.</summary>
    public bool IsLate(int candidate)
    {
        if (IsMissed(candidate)) return false;
        foreach (var part in Parts)
            if (part.MillisecondsToSignal[candidate] > part.Within.Milliseconds) return true;
        return false;
    }

    /// <summary>
    /// Whether the signal would come too late for the same event at half its length (R14.2). An event whose half is shorter than
    /// T stays one that must be caught: it is the same hypoxaemia, and any signal must come before its halved end.
    /// </summary>
    public bool IsMissedAtHalfLength(int candidate)
    {
        foreach (var part in Parts)
        {
            int time = part.MillisecondsToSignal[candidate];
            if (time < 0 || 2L * time >= part.Length.Milliseconds) return true;
        }

        return false;
    }

    /// <summary>The worst part's; null when missed.</summary>
    public Duration? TimeToSignal(int candidate)
    {
        int worst = 0;
        foreach (var part in Parts)
        {
            int time = part.MillisecondsToSignal[candidate];
            if (time < 0) return null;
            worst = Math.Max(worst, time);
        }

        return new Duration(worst);
    }
}

/// <summary>
/// What one patient's recordings say of every candidate: everything the search, the folds, the resamples and the bounds need,
/// so that each of them is a sum over patients.
/// </summary>
public sealed class PatientEvidence
{
    /// <param name="patient">The pseudonym.</param>
    /// <param name="recordings">Number of recordings.</param>
    /// <param name="valid">Valid time of the unaveraged series, alike for every candidate.</param>
    /// <param name="connected">First row to end.</param>
    /// <param name="signals">Physiological signals per candidate; −1: null cell.</param>
    /// <param name="activeMilliseconds">Active signal per candidate.</param>
    /// <param name="technicalSignals">Technical signals per candidate.</param>
    /// <param name="events">Must-catch events.</param>
    /// <param name="possible">What invalid time may hide (R14.4), beyond <paramref name="events"/>.</param>
    public PatientEvidence(
        string patient, int recordings, Duration valid, Duration connected,
        long[] signals, long[] activeMilliseconds, long[] technicalSignals,
        IReadOnlyList<EventEvidence> events, IReadOnlyList<EventEvidence> possible)
    {
        int candidates = signals.Length;
        if (activeMilliseconds.Length != candidates || technicalSignals.Length != candidates)
            throw new ArgumentException($"Patient {patient}: found {candidates} signal counts, {activeMilliseconds.Length} active times and {technicalSignals.Length} technical counts, expected one of each per candidate.");
        Patient = patient;
        Recordings = recordings;
        Valid = valid;
        Connected = connected;
        Signals = signals;
        ActiveMilliseconds = activeMilliseconds;
        TechnicalSignals = technicalSignals;
        Events = events;
        Possible = possible;
        EventTime = new Duration(events.Sum(e => (e.End - e.Onset).Milliseconds));
        Missed = Count(events, candidates, (e, c) => e.IsMissed(c));
        Late = Count(events, candidates, (e, c) => e.IsLate(c));
        MissedAtHalfLength = Count(events, candidates, (e, c) => e.IsMissedAtHalfLength(c));
        PossibleMissed = Count(possible, candidates, (e, c) => e.IsMissed(c) || e.IsLate(c));
    }

    public string Patient { get; }

    public int Recordings { get; }

    public Duration Valid { get; }

    public Duration Connected { get; }

    public long[] Signals { get; }

    public long[] ActiveMilliseconds { get; }

    public long[] TechnicalSignals { get; }

    public IReadOnlyList<EventEvidence> Events { get; }

    public IReadOnlyList<EventEvidence> Possible { get; }

    /// <summary>What the must-catch events last together.</summary>
    internal Duration EventTime { get; }

    internal int[] Missed { get; }

    internal int[] Late { get; }

    internal int[] MissedAtHalfLength { get; }

    /// <summary>Late counts as missed here: what went on inside the invalid time cannot be known, and the worst is assumed.</summary>
    internal int[] PossibleMissed { get; }

    private static int[] Count(IReadOnlyList<EventEvidence> events, int candidates, Func<EventEvidence, int, bool> holds)
    {
        var counts = new int[candidates];
        foreach (var one in events)
        {
            for (int c = 0; c < candidates; c++)
                if (holds(one, c)) counts[c]++;
        }

        return counts;
    }
}
