using Stillwatch.Conditioning;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Tuning.Map;

/// <summary>One map in the making: the pass and what it fills.</summary>
internal sealed class MapDrawing
{
    /// <summary>To be led over the conditioned series once.</summary>
    public MapPass Pass;

    private readonly MapRequest request;
    private readonly ConditionedQuantity quantity;
    private readonly int events;
    private readonly PlaneTally byDelay;
    private readonly PlaneTally byArea;
    private readonly CatchVerdicts? verdicts;
    private readonly CatchWatch? watch;

    public MapDrawing(MapRequest request, ConditionedQuantity quantity, IReadOnlyList<MustCatchEvent> events)
    {
        this.request = request;
        this.quantity = quantity;
        this.events = events.Count;
        var frame = new MapFrame(request, quantity);
        byDelay = new PlaneTally(frame, frame.Delays, startsGrowWithThreshold: true);
        byArea = new PlaneTally(frame, frame.Areas, startsGrowWithThreshold: false);
        if (events.Count > 0 || request.KeepTimesToSignal)
        {
            verdicts = new CatchVerdicts(frame, events, byDelay, byArea, request.KeepTimesToSignal);
            watch = new CatchWatch(frame, events, verdicts, request.KeepTimesToSignal);
        }

        Pass = new MapPass(frame, byDelay, byArea, watch);
    }

    public SettingsMap Finish(Duration valid, Duration connected)
    {
        watch?.End(); // a recording without rows has no pass: every event is missed
        return new SettingsMap(request, byDelay.ToPlane(verdicts?.DelayTimes), byArea.ToPlane(verdicts?.AreaTimes), valid, connected, events) { Quantity = quantity };
    }
}
