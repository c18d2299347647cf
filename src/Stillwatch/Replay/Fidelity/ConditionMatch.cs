using Stillwatch.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Replay.Fidelity;

/// <summary>Log and replay of one condition, paired. What begins outside the time that both cover counts only where its pair lies inside.</summary>
internal sealed class ConditionMatch
{
    private ConditionMatch(AlarmCondition condition) => Condition = condition;

    public AlarmCondition Condition { get; }

    public List<MatchedSignal> Matched { get; } = [];

    public List<LoggedSignal> Missing { get; } = [];

    public List<ReplayedSignal> Extra { get; } = [];

    /// <summary>Logged outside the time that both cover.</summary>
    public int Outside { get; private set; }

    public FidelityFigure Figure => FidelityFigure.Of(Matched.Count + Missing.Count, Matched.Count + Extra.Count, Matched.Select(m => m.Difference));

    /// <param name="condition">Of all of them.</param>
    /// <param name="logged">By start.</param>
    /// <param name="replayed">By start.</param>
    /// <param name="span">The time that both cover.</param>
    /// <param name="tolerance">The greatest difference of starts.</param>
    public static ConditionMatch Of(AlarmCondition condition, IReadOnlyList<LoggedSignal> logged, IReadOnlyList<ReplayedSignal> replayed, TimeSlice span, Duration tolerance)
    {
        var match = new ConditionMatch(condition);
        var pairs = SignalMatcher.Match([.. logged.Select(s => s.Start.Milliseconds)], [.. replayed.Select(s => s.Start.Milliseconds)], tolerance.Milliseconds);
        var pairedLogged = new bool[logged.Count];
        var pairedReplayed = new bool[replayed.Count];
        foreach (var (left, right) in pairs)
        {
            if (!span.Contains(logged[left].Start) && !span.Contains(replayed[right].Start)) continue;
            match.Matched.Add(new MatchedSignal(logged[left], replayed[right]));
            pairedLogged[left] = pairedReplayed[right] = true;
        }

        for (int i = 0; i < logged.Count; i++)
        {
            if (pairedLogged[i]) continue;
            if (span.Contains(logged[i].Start)) match.Missing.Add(logged[i]);
            else match.Outside++;
        }

        for (int i = 0; i < replayed.Count; i++)
        {
            if (!pairedReplayed[i] && span.Contains(replayed[i].Start)) match.Extra.Add(replayed[i]);
        }

        return match;
    }
}
