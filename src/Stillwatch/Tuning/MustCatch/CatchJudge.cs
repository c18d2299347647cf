using Stillwatch.Alarms;
using Stillwatch.Replay;
using Stillwatch.Time;

namespace Stillwatch.Tuning.MustCatch;

/// <summary>What the signals of a replay make of a must-catch event (rule R13).</summary>
/// <remarks>
/// In time: an SpO2-low signal (backstop included: it is the same condition) is active at some instant of [onset, onset + T],
/// both ends included. Late: first active after that, before the part's end. Missed: otherwise. Signals are [start, end) and
/// not active while suspended by a loss.
/// </remarks>
public static class CatchJudge
{
    /// <summary>The worst verdict over the event's parts, and the longest time to a signal; null where any part is missed.</summary>
    /// <param name="mustCatch">The event.</param>
    /// <param name="signals">Of the same recording; other conditions than SpO2 low are passed over. In any order.</param>
    public static (CatchVerdict Verdict, Duration? TimeToSignal) Judge(MustCatchEvent mustCatch, IReadOnlyList<ReplayedSignal> signals)
    {
        var worst = CatchVerdict.InTime;
        var longest = Duration.Zero;
        foreach (var part in mustCatch.Parts)
        {
            var (verdict, time) = Judge(part, signals);
            if (verdict > worst) worst = verdict;
            if (time is { } t && t > longest) longest = t;
        }

        return (worst, worst == CatchVerdict.Missed ? null : longest);
    }

    /// <summary>One part by itself.</summary>
    public static (CatchVerdict Verdict, Duration? TimeToSignal) Judge(MustCatchPart part, IReadOnlyList<ReplayedSignal> signals)
    {
        SampleTime? first = null;
        foreach (var signal in signals)
        {
            if (signal.Condition != AlarmCondition.SpO2Low || signal.End <= part.Onset) continue;
            if (FirstActive(signal, part.Onset) is { } active && (first is not { } f || active < f)) first = active;
        }

        if (first is not { } at) return (CatchVerdict.Missed, null);
        var time = at - part.Onset;
        if (time <= part.Within) return (CatchVerdict.InTime, time);
        return at < part.End ? (CatchVerdict.Late, time) : (CatchVerdict.Missed, null);
    }

    /// <summary>The first instant at or after a time at which a signal is active; null if there is none.</summary>
    private static SampleTime? FirstActive(ReplayedSignal signal, SampleTime from)
    {
        var at = signal.Start > from ? signal.Start : from;
        foreach (var suspension in signal.Suspensions.OrderBy(s => s.Start))
            if (suspension.Contains(at))
                at = suspension.End;
        return at < signal.End ? at : null;
    }
}
