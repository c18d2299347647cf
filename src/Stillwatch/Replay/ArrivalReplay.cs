using Stillwatch.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Replay;

/// <summary>
/// A feed in the order in which things arrived (R11): gate, engine and collector. A live bed and the replay of its journal are
/// both this, so that they agree bit for bit; the journal must hold every arrival, advances of time included.
/// </summary>
/// <remarks>What is no row takes effect at the watermark: with a patience, decisions lag behind arrivals by that much.</remarks>
public sealed class ArrivalReplay
{
    private readonly AlarmState state;
    private readonly LateSampleGate gate;
    private readonly AlarmChanges changes = new();
    private readonly SignalCollector collector = new();
    private readonly List<AlarmRow> notUsed = [];

    /// <exception cref="ArgumentException">The settings contradict the rules, or the feed is out of bounds.</exception>
    public ArrivalReplay(AlarmSettings settings, AlarmFeed feed, Duration patience)
    {
        state = AlarmEngine.Start(settings, feed);
        gate = new LateSampleGate(patience);
    }

    public AlarmState State => state;

    /// <summary>Late and repeated rows, in order of arrival: listed, never used.</summary>
    public IReadOnlyList<AlarmRow> NotUsed => notUsed;

    public IReadOnlyList<ReplayedSignal> Ended() => collector.Ended();

    /// <summary>Takes what arrived next. What the engine brought about is handed to <paramref name="listener"/>, step by step.</summary>
    public void Arrive(in AlarmInput arrival, Action<AlarmChanges>? listener = null)
    {
        if (arrival.Kind == AlarmInputKind.Row)
        {
            if (gate.Offer(arrival.Row) != GateVerdict.Accepted) notUsed.Add(arrival.Row);
            Release(listener);
            return;
        }

        if (arrival.Kind is AlarmInputKind.Advance or AlarmInputKind.EndOfRecording)
        {
            gate.AdvanceTo(arrival.Time);
            Release(listener);
        }

        Step(gate.Watermark is { } watermark && arrival.Kind != AlarmInputKind.EndOfRecording ? arrival.At(watermark) : arrival, listener);
    }

    private void Release(Action<AlarmChanges>? listener)
    {
        while (gate.TryRelease(out var row)) Step(AlarmInput.Of(row), listener);
    }

    private void Step(in AlarmInput input, Action<AlarmChanges>? listener)
    {
        AlarmEngine.Step(state, input, changes);
        collector.Take(changes);
        listener?.Invoke(changes);
    }
}
