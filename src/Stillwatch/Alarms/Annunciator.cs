namespace Stillwatch.Alarms;

/// <summary>
/// What of the signals is heard and shown: audio paused and off, alarm paused and off, acknowledged, latched, reminders. It
/// reads the signals and never touches them (R12). When an inactivation ends, whatever is current becomes audible again.
/// </summary>
/// <remarks>States and their scope: IEC 60601-1-8. A suspended signal stays in sight and is not heard; the condition of having no reading sounds in its stead, at its priority (R9).</remarks>
internal sealed class Annunciator(SignalBoard board)
{
    private const int ForAll = SignalBoard.Count;
    private readonly Inactivation[] audio = new Inactivation[SignalBoard.Count + 1];
    private readonly Inactivation[] alarm = new Inactivation[SignalBoard.Count + 1];
    private AnnunciationSettings settings = AnnunciationSettings.Default;

    public long Deadline { get; private set; } = LimitRun.Never;

    public void Configure(AnnunciationSettings wanted) => settings = wanted;

    public InactivationState Audio(AlarmCondition? condition) => audio[IndexOf(condition)].State;

    public InactivationState Alarm(AlarmCondition? condition) => alarm[IndexOf(condition)].State;

    public void Act(long time, OperatorAction action, AlarmCondition? condition, long? length)
    {
        switch (action)
        {
            case OperatorAction.PauseAudio:
                audio[IndexOf(condition)] = Inactivation.Paused(time + (length ?? settings.AudioPausedFor.Milliseconds));
                break;
            case OperatorAction.TurnAudioOff:
                audio[IndexOf(condition)] = Off(time);
                break;
            case OperatorAction.ResumeAudio:
                Resume(audio, condition);
                break;
            case OperatorAction.PauseAlarm:
                alarm[IndexOf(condition)] = Inactivation.Paused(time + (length ?? settings.AlarmPausedFor.Milliseconds));
                break;
            case OperatorAction.TurnAlarmOff:
                alarm[IndexOf(condition)] = Off(time);
                break;
            case OperatorAction.ResumeAlarm:
                Resume(alarm, condition);
                break;
            default:
                Acknowledge(time, condition, action == OperatorAction.Acknowledge);
                break;
        }

        board.IsDirty = true;
        RefreshDeadline();
    }

    /// <summary>Pauses that run out, reminders that are due. Of reminders due in one long advance the first and the last are given.</summary>
    public void Fire(long time, long target)
    {
        for (int i = 0; i <= ForAll; i++)
        {
            Fire(ref audio[i], i, time, target);
            Fire(ref alarm[i], i, time, target);
        }

        RefreshDeadline();
    }

    /// <summary>Reports what has become heard or shown, or no longer is.</summary>
    public void Present(long time)
    {
        if (!board.IsDirty) return;
        board.IsDirty = false;
        for (int i = 0; i < SignalBoard.Count; i++)
        {
            var condition = (AlarmCondition)i;
            ref readonly var slot = ref board[condition];
            bool alarmsOn = !alarm[ForAll].IsActive && !alarm[i].IsActive;
            bool audioOn = !audio[ForAll].IsActive && !audio[i].IsActive;
            bool shown = (slot.IsSignalling || slot.IsLatched) && alarmsOn;
            bool sounds = (slot.IsSignalling && !slot.IsSuspended && !slot.IsAcknowledged) || slot.IsLatched;
            board.Present(condition, time, shown, sounds && alarmsOn && audioOn);
        }
    }

    private static int IndexOf(AlarmCondition? condition) => condition is { } c ? (int)c : ForAll;

    private Inactivation Off(long time) =>
        Inactivation.Off(settings.ReminderEvery is { } every ? time + every.Milliseconds : LimitRun.Never);

    private static void Resume(Inactivation[] inactivations, AlarmCondition? condition)
    {
        if (condition is { } c) inactivations[(int)c] = default;
        else Array.Clear(inactivations);
    }

    private void Acknowledge(long time, AlarmCondition? only, bool isAcknowledged)
    {
        for (int i = 0; i < SignalBoard.Count; i++)
        {
            var condition = (AlarmCondition)i;
            if (only is { } c && c != condition) continue;
            if (isAcknowledged) board.Acknowledge(condition, time);
            else board.EndAcknowledgement(condition, time);
        }
    }

    private void Fire(ref Inactivation inactivation, int index, long time, long target)
    {
        if (inactivation.DueAt > time) return;
        AlarmCondition? condition = index == ForAll ? null : (AlarmCondition)index;
        if (inactivation.State == InactivationState.Paused)
        {
            inactivation = default;
            board.Changes.Add(AlarmChangeKind.PauseEnded, condition, time, time);
            board.IsDirty = true;
            return;
        }

        board.Changes.Add(AlarmChangeKind.Reminder, condition, time, time);
        if (settings.ReminderEvery is not { } every)
        {
            inactivation = Inactivation.Off(LimitRun.Never);
            return;
        }

        long passed = Math.Max(1, (target - 1 - time) / every.Milliseconds);
        inactivation = Inactivation.Off(time + passed * every.Milliseconds);
    }

    private void RefreshDeadline()
    {
        long earliest = LimitRun.Never;
        for (int i = 0; i <= ForAll; i++) earliest = Math.Min(earliest, Math.Min(audio[i].DueAt, alarm[i].DueAt));
        Deadline = earliest;
    }

    private readonly struct Inactivation
    {
        private readonly long due;

        private Inactivation(InactivationState state, long due)
        {
            State = state;
            this.due = due;
        }

        public InactivationState State { get; }

        public bool IsActive => State != InactivationState.None;

        /// <summary>The end of a pause, or the next reminder.</summary>
        public long DueAt => IsActive ? due : LimitRun.Never;

        public static Inactivation Paused(long until) => new(InactivationState.Paused, until);

        public static Inactivation Off(long reminderAt) => new(InactivationState.Off, reminderAt);
    }
}

/// <summary>Whether audio or alarms are inactive.</summary>
public enum InactivationState
{
    None,

    /// <summary>For a time.</summary>
    Paused,

    /// <summary>Until somebody ends it.</summary>
    Off,
}
