namespace Stillwatch.Alarms;

/// <summary>The signals of all conditions: what is current and what is latched. Every change is reported here and nowhere else.</summary>
internal sealed class SignalBoard
{
    public const int Count = (int)AlarmCondition.ImplausibleValue + 1;

    private readonly Slot[] slots = new Slot[Count];

    public AlarmChanges Changes { get; set; } = new();

    public AlarmConditionSet Latching { get; set; }

    /// <summary>Something happened that may change what is heard or shown.</summary>
    public bool IsDirty { get; set; }

    public ref readonly Slot this[AlarmCondition condition] => ref slots[(int)condition];

    public void Start(AlarmCondition condition, long at, AlarmPriority priority)
    {
        ref var slot = ref slots[(int)condition];
        if (slot.IsLatched) Unlatch(condition, at);
        slot.IsSignalling = true;
        slot.StartedAt = at;
        slot.Priority = priority;
        Note(AlarmChangeKind.Started, condition, at, at);
    }

    /// <summary>A higher priority, or a new cause: either must be noticed, so an acknowledgement ends. A lower priority changes nothing.</summary>
    public void Raise(AlarmCondition condition, long at, AlarmPriority priority, bool isNewCause = false)
    {
        ref var slot = ref slots[(int)condition];
        bool higher = priority > slot.Priority;
        if (higher)
        {
            slot.Priority = priority;
            Note(AlarmChangeKind.Raised, condition, at, at);
        }

        if (higher || isNewCause) EndAcknowledgement(condition, at);
    }

    public void Suspend(AlarmCondition condition, long at)
    {
        slots[(int)condition].IsSuspended = true;
        Note(AlarmChangeKind.Suspended, condition, at, at);
    }

    public void Resume(AlarmCondition condition, long at)
    {
        slots[(int)condition].IsSuspended = false;
        Note(AlarmChangeKind.Resumed, condition, at, at);
    }

    public void End(AlarmCondition condition, long at, long decided, SignalEnding ending)
    {
        ref var slot = ref slots[(int)condition];
        Note(AlarmChangeKind.Ended, condition, at, decided, ending);
        slot.IsSignalling = false;
        slot.IsSuspended = false;
        // Acknowledged while it was there: the deliberate action that latching waits for has been taken.
        if (Latching.Contains(condition) && !slot.IsAcknowledged && ending != SignalEnding.End)
        {
            slot.IsLatched = true;
            Note(AlarmChangeKind.Latched, condition, decided, decided);
        }

        EndAcknowledgement(condition, decided);
    }

    public void Acknowledge(AlarmCondition condition, long at)
    {
        ref var slot = ref slots[(int)condition];
        if (slot.IsLatched) Unlatch(condition, at);
        if (!slot.IsSignalling || slot.IsAcknowledged) return;
        slot.IsAcknowledged = true;
        Note(AlarmChangeKind.Acknowledged, condition, at, at);
    }

    public void EndAcknowledgement(AlarmCondition condition, long at)
    {
        ref var slot = ref slots[(int)condition];
        if (!slot.IsAcknowledged) return;
        slot.IsAcknowledged = false;
        Note(AlarmChangeKind.AcknowledgementEnded, condition, at, at);
    }

    public void Present(AlarmCondition condition, long at, bool shown, bool heard)
    {
        ref var slot = ref slots[(int)condition];
        if (slot.IsShown != shown)
        {
            slot.IsShown = shown;
            Changes.Add(shown ? AlarmChangeKind.Shown : AlarmChangeKind.Hidden, condition, at, at, slot.Priority);
        }

        if (slot.IsHeard != heard)
        {
            slot.IsHeard = heard;
            Changes.Add(heard ? AlarmChangeKind.Audible : AlarmChangeKind.Silent, condition, at, at, slot.Priority);
        }
    }

    private void Unlatch(AlarmCondition condition, long at)
    {
        slots[(int)condition].IsLatched = false;
        Note(AlarmChangeKind.Unlatched, condition, at, at);
    }

    private void Note(AlarmChangeKind kind, AlarmCondition condition, long at, long decided, SignalEnding ending = default)
    {
        Changes.Add(kind, condition, at, decided, slots[(int)condition].Priority, ending);
        IsDirty = true;
    }

    internal struct Slot
    {
        public bool IsSignalling;
        public bool IsSuspended;
        public bool IsLatched;
        public bool IsAcknowledged;
        public bool IsShown;
        public bool IsHeard;
        public long StartedAt;
        public AlarmPriority Priority;
    }
}
