using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Tuning.Map;

/// <summary>One part of a must-catch event while the pass goes over it: for how many thresholds of each limit it is answered.</summary>
/// <remarks>
/// Within one stretch a signal starts later as its threshold grows, so the thresholds that answer in time are the first few;
/// over several stretches, the most of any of them.
/// </remarks>
internal sealed class WatchedPart(MustCatchPart part, int eventIndex)
{
    public MustCatchPart Part { get; } = part;

    public int EventIndex { get; } = eventIndex;

    /// <summary>Active time at the onset.</summary>
    public long Onset { get; set; }

    /// <summary>Active time just after onset + T; unknown (never) until it is passed.</summary>
    public long InTimeBefore { get; set; } = long.MaxValue;

    /// <summary>Active time at the part's end; unknown (never) until it is passed.</summary>
    public long CaughtBefore { get; set; } = long.MaxValue;

    public PartPlane Delays { get; private set; } = PartPlane.None;

    public PartPlane Areas { get; private set; } = PartPlane.None;

    public void Begin(long onset, int limits, int delays, int areas, bool keepsTimes)
    {
        Onset = onset;
        Delays = new PartPlane(limits, delays, keepsTimes);
        Areas = new PartPlane(limits, areas, keepsTimes);
    }
}

/// <summary>The answers of one plane to one part of an event: thresholds [0, InTime) in time, [0, Caught) in time or late.</summary>
internal sealed class PartPlane
{
    /// <summary>Of a part that the recording never reached.</summary>
    public static readonly PartPlane None = new(0, 0, false);

    public PartPlane(int limits, int thresholds, bool keepsTimes)
    {
        Thresholds = thresholds;
        InTime = new int[limits];
        Caught = new int[limits];
        if (!keepsTimes) return;
        Times = new int[limits * thresholds];
        Array.Fill(Times, int.MaxValue);
    }

    public int Thresholds { get; }

    public int[] InTime { get; }

    public int[] Caught { get; }

    /// <summary>Milliseconds from onset to signal per limit and threshold, where kept; meaningful below <see cref="Caught"/>.</summary>
    public int[]? Times { get; }
}
