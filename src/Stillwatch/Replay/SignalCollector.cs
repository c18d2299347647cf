using Stillwatch.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Replay;

/// <summary>Puts signals together from what the engine reports step by step. The same for a replay and for a live bed's history.</summary>
public sealed class SignalCollector
{
    private readonly Open?[] open = new Open?[Enum.GetValues<AlarmCondition>().Length];
    private readonly List<ReplayedSignal> ended = [];

    /// <summary>All signals that have ended, by start, then by condition.</summary>
    public IReadOnlyList<ReplayedSignal> Ended() => [.. ended.OrderBy(s => s.Start).ThenBy(s => s.Condition).ThenBy(s => s.End)];

    public void Take(AlarmChanges changes)
    {
        foreach (ref readonly var change in changes.Span)
        {
            if (change.Kind <= AlarmChangeKind.Ended) Take(change);
        }
    }

    private void Take(in AlarmChange change)
    {
        var condition = change.Condition!.Value;
        ref var signal = ref open[(int)condition];
        switch (change.Kind)
        {
            case AlarmChangeKind.Started:
                signal = new Open { Start = change.At, Highest = change.Priority };
                break;
            case AlarmChangeKind.Raised:
                signal!.Highest = change.Priority;
                break;
            case AlarmChangeKind.Suspended:
                signal!.LostAt = change.At;
                break;
            case AlarmChangeKind.Resumed:
                signal!.Suspensions.Add(new TimeSlice(signal.LostAt, change.At));
                break;
            default:
                ended.Add(new ReplayedSignal(condition, signal!.Start, change.At, change.Ending, signal.Highest, signal.Suspensions) { EndDecided = change.Decided });
                signal = null;
                break;
        }
    }

    private sealed class Open
    {
        public SampleTime Start;
        public SampleTime LostAt;
        public AlarmPriority Highest;
        public readonly List<TimeSlice> Suspensions = [];
    }
}
