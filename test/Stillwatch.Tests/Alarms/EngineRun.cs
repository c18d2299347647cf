using Stillwatch.Alarms;
using Stillwatch.Replay;

namespace Stillwatch.Tests.Alarms;

/// <summary>Steps the engine through inputs and keeps everything it says.</summary>
internal sealed class EngineRun
{
    private readonly AlarmChanges changes = new();
    private readonly SignalCollector collector = new();

    public EngineRun(AlarmSettings settings, AlarmFeed feed) => State = AlarmEngine.Start(settings, feed);

    public AlarmState State { get; }

    public List<AlarmChange> Log { get; } = [];

    public IReadOnlyList<ReplayedSignal> Signals => collector.Ended();

    public static EngineRun Of(AlarmSettings settings, AlarmFeed feed, IEnumerable<AlarmInput> inputs)
    {
        var run = new EngineRun(settings, feed);
        foreach (var input in inputs) run.Step(input);
        return run;
    }

    public void Step(in AlarmInput input)
    {
        AlarmEngine.Step(State, input, changes);
        collector.Take(changes);
        Log.AddRange(changes.Span);
    }
}
