using Stillwatch.Time;

namespace Stillwatch.Tuning.MustCatch;

/// <summary>What settings make of many must-catch events.</summary>
/// <param name="InTime">Events signalled in time.</param>
/// <param name="Late">Signalled after onset + T, before their end.</param>
/// <param name="Missed">Never signalled.</param>
/// <param name="MedianTimeToSignal">From onset to signal over the events that were signalled (the mean of the two middle ones where even, to a millisecond); null without any. Read it beside <paramref name="Missed"/>: a missed event has no time.</param>
/// <param name="WorstTimeToSignal">The longest of these.</param>
public sealed record CatchSummary(int InTime, int Late, int Missed, Duration? MedianTimeToSignal, Duration? WorstTimeToSignal)
{
    public int Events => InTime + Late + Missed;

    public static CatchSummary Of(IEnumerable<(CatchVerdict Verdict, Duration? TimeToSignal)> judged)
    {
        int inTime = 0, late = 0, missed = 0;
        var times = new List<long>();
        foreach (var (verdict, time) in judged)
        {
            if (verdict == CatchVerdict.InTime) inTime++;
            else if (verdict == CatchVerdict.Late) late++;
            else missed++;
            if (time is { } t) times.Add(t.Milliseconds);
        }

        times.Sort();
        return new CatchSummary(
            inTime,
            late,
            missed,
            times.Count > 0 ? new Duration((times[(times.Count - 1) / 2] + times[times.Count / 2] + 1) / 2) : null,
            times.Count > 0 ? new Duration(times[^1]) : null);
    }

    /// <summary>All events of one recording under one replay.</summary>
    public static CatchSummary Of(IEnumerable<MustCatchEvent> events, IReadOnlyList<Replay.ReplayedSignal> signals) =>
        Of(events.Select(e => CatchJudge.Judge(e, signals)));
}
