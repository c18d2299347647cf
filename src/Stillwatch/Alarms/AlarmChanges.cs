using Stillwatch.Conditioning;
using Stillwatch.Time;

namespace Stillwatch.Alarms;

public enum AlarmChangeKind
{
    /// <summary>A signal started: what the map and the load count (R12).</summary>
    Started,

    /// <summary>Its priority rose.</summary>
    Raised,

    /// <summary>Its value was lost (R9): not active until resumed.</summary>
    Suspended,

    /// <summary>The value came back in time and still beyond the limit (or margin): the same signal goes on.</summary>
    Resumed,

    /// <summary>It ended; see <see cref="AlarmChange.Ending"/>.</summary>
    Ended,

    /// <summary>It can be heard from now on.</summary>
    Audible,

    /// <summary>It cannot be heard any more.</summary>
    Silent,

    /// <summary>It can be seen from now on.</summary>
    Shown,

    /// <summary>It cannot be seen any more.</summary>
    Hidden,

    /// <summary>The condition is gone, its signal goes on until acknowledged.</summary>
    Latched,
    Unlatched,
    Acknowledged,
    AcknowledgementEnded,

    /// <summary>Audio or alarms are still off: a reminder.</summary>
    Reminder,

    /// <summary>A pause ran out by itself.</summary>
    PauseEnded,

    /// <summary>The input lies before the time already reached: not used (R11).</summary>
    InputLate,

    /// <summary>A second row at one instant: not used.</summary>
    RowRepeated,

    /// <summary>The input cannot be used at all (after the end, a time or length out of bounds, unusable settings).</summary>
    InputRefused,
}

/// <summary>One thing that a step brought about.</summary>
/// <param name="Kind">What happened.</param>
/// <param name="Condition">To which condition's signal; null where it concerns all or none.</param>
/// <param name="At">The instant it bears: for a signal that ended as lost, the loss.</param>
/// <param name="Decided">The instant it was decided; later than <paramref name="At"/> only for a signal that ended as lost.</param>
/// <param name="Priority">The signal's priority.</param>
/// <param name="Ending">How it ended, for <see cref="AlarmChangeKind.Ended"/>.</param>
public readonly record struct AlarmChange(
    AlarmChangeKind Kind,
    AlarmCondition? Condition,
    SampleTime At,
    SampleTime Decided,
    AlarmPriority Priority,
    SignalEnding Ending);

/// <summary>What the last step brought about, in order. Owned by the caller and used again for every step.</summary>
public sealed class AlarmChanges
{
    private AlarmChange[] items = new AlarmChange[32];

    public int Count { get; private set; }

    public AlarmChange this[int index]
    {
        get
        {
            ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)index, (uint)Count, nameof(index));
            return items[index];
        }
    }

    public ReadOnlySpan<AlarmChange> Span => items.AsSpan(0, Count);

    /// <summary>What R2 said of the row's SpO2; null where the step was no row or SpO2 is not monitored.</summary>
    public SampleVerdict? SpO2Verdict { get; internal set; }

    /// <summary>What R2 said of the row's pulse rate; null where the step was no row or pulse rate is not monitored.</summary>
    public SampleVerdict? PulseRateVerdict { get; internal set; }

    internal void Clear()
    {
        Count = 0;
        SpO2Verdict = null;
        PulseRateVerdict = null;
    }

    internal void Add(AlarmChangeKind kind, AlarmCondition? condition, long at, long decided, AlarmPriority priority = AlarmPriority.None, SignalEnding ending = default)
    {
        if (Count == items.Length) Array.Resize(ref items, items.Length * 2);
        items[Count++] = new AlarmChange(kind, condition, new SampleTime(at), new SampleTime(decided), priority, ending);
    }
}
