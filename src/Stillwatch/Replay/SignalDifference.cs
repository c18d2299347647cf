using Stillwatch.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Replay;

/// <summary>A signal that two runs do not share alike, e.g. live and the replay of the time-sorted recording (R11).</summary>
/// <param name="First">As the first run has it; null: only the second has it.</param>
/// <param name="Second">As the second run has it; null: only the first has it.</param>
public sealed record SignalDifference(ReplayedSignal? First, ReplayedSignal? Second)
{
    public AlarmCondition Condition => (First ?? Second)!.Condition;

    public SampleTime Start => (First ?? Second)!.Start;

    /// <summary>All differences, by start. Two signals are the same one if condition and start agree; then end, ending, priority and suspensions are compared.</summary>
    public static IReadOnlyList<SignalDifference> Between(IReadOnlyList<ReplayedSignal> first, IReadOnlyList<ReplayedSignal> second)
    {
        var seconds = second.ToDictionary(s => (s.Condition, s.Start));
        var differences = new List<SignalDifference>();
        foreach (var signal in first)
        {
            if (!seconds.Remove((signal.Condition, signal.Start), out var other)) differences.Add(new SignalDifference(signal, null));
            else if (!IsSame(signal, other)) differences.Add(new SignalDifference(signal, other));
        }

        differences.AddRange(seconds.Values.Select(s => new SignalDifference(null, s)));
        return [.. differences.OrderBy(d => d.Start).ThenBy(d => d.Condition)];
    }

    private static bool IsSame(ReplayedSignal first, ReplayedSignal second) =>
        first.End == second.End && first.Ending == second.Ending && first.EndDecided == second.EndDecided
        && first.HighestPriority == second.HighestPriority && first.Suspensions.SequenceEqual(second.Suspensions);
}
