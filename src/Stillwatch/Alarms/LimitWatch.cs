using Stillwatch.Conditioning;

namespace Stillwatch.Alarms;

/// <summary>
/// One physiological condition: its run, for SpO2 low the backstop's run beside it (R8), and its signal, through losses (R9).
/// </summary>
/// <param name="condition">Which one.</param>
/// <param name="isHigh">High limits mirror comparison, area and margin (R7).</param>
/// <param name="board">Where its signal stands.</param>
internal sealed class LimitWatch(AlarmCondition condition, bool isHigh, SignalBoard board)
{
    private bool limitOn;
    private bool backstopOn;
    private int limitMicro;
    private int marginMicro;
    private int backstopMicro;
    private LimitRun run;
    private LimitRun backstopRun;
    private bool raised;
    private long lossAt;
    private AlarmPriority priority;
    private AlarmPriority backstopPriority;

    private bool IsOn => limitOn || backstopOn;

    private bool IsSignalling => board[condition].IsSignalling;

    /// <summary>The highest priority of what is open, run or signal (R9).</summary>
    public AlarmPriority OpenPriority
    {
        get
        {
            var highest = IsSignalling ? board[condition].Priority : AlarmPriority.None;
            if (run.IsOpen && priority > highest) highest = priority;
            if (backstopRun.IsOpen && backstopPriority > highest) highest = backstopPriority;
            return highest;
        }
    }

    /// <summary>When the signal starts or rises next if the value stays.</summary>
    public long Deadline
    {
        get
        {
            if (!IsOn) return LimitRun.Never;
            long byBackstop = raised ? LimitRun.Never : backstopRun.QualifiesAt;
            return IsSignalling ? byBackstop : Math.Min(byBackstop, run.QualifiesAt);
        }
    }

    public void Value(long time, int micro, Arrival arrival)
    {
        if (!IsOn) return;
        long depth = Depth(micro, limitMicro);
        long backstopDepth = Depth(micro, backstopMicro);
        if (arrival is Arrival.BackInTime or Arrival.BackTooLate)
        {
            run.Return(time, depth, arrival == Arrival.BackInTime);
            backstopRun.Return(time, backstopDepth, arrival == Arrival.BackInTime);
        }
        else
        {
            run.Value(time, depth);
            backstopRun.Value(time, backstopDepth);
        }

        if (!IsSignalling) return;
        bool cleared = depth <= -marginMicro;
        if (board[condition].IsSuspended)
        {
            if (cleared) EndSignal(lossAt, time, SignalEnding.Lost);
            else board.Resume(condition, time);
        }
        else if (cleared)
        {
            EndSignal(time, time, SignalEnding.Cleared);
        }
    }

    public void Lose(long time)
    {
        run.Lose(time);
        backstopRun.Lose(time);
        lossAt = time;
        if (IsSignalling) board.Suspend(condition, time);
    }

    /// <summary>The 60 s after a loss are over: whatever was open ended as lost.</summary>
    public void GiveUp(long decided)
    {
        CloseRuns();
        if (IsSignalling) EndSignal(lossAt, decided, SignalEnding.Lost);
    }

    public void End(long time)
    {
        CloseRuns();
        if (!IsSignalling) return;
        if (board[condition].IsSuspended) EndSignal(lossAt, time, SignalEnding.Lost);
        else EndSignal(time, time, SignalEnding.End);
    }

    public void Fire(long time)
    {
        bool byBackstop = !raised && backstopRun.QualifiesAt == time;
        var reached = byBackstop ? backstopPriority : priority;
        raised |= byBackstop;
        if (IsSignalling) board.Raise(condition, time, reached);
        else board.Start(condition, time, reached);
    }

    /// <summary>
    /// New settings from now on. A run under an unchanged limit keeps what it has gathered; under another limit it begins anew
    /// now, since nobody watched the time before under it. A signal goes on unless the value clears it under the new settings.
    /// </summary>
    public void Apply(in Thresholds wanted, long time, bool hasValue, int micro)
    {
        bool sameLimit = limitOn && wanted.LimitOn && limitMicro == wanted.LimitMicro;
        bool sameBackstop = backstopOn && wanted.BackstopOn && backstopMicro == wanted.BackstopMicro;
        limitOn = wanted.LimitOn;
        backstopOn = wanted.BackstopOn;
        backstopMicro = wanted.BackstopMicro;
        // A backstop without a low limit clears at itself.
        limitMicro = limitOn ? wanted.LimitMicro : backstopMicro;
        marginMicro = limitOn ? wanted.MarginMicro : 0;
        priority = wanted.Priority;
        backstopPriority = wanted.BackstopPriority;
        if (!sameLimit) run.Close();
        if (!sameBackstop) backstopRun.Close();
        run.Configure(limitOn, wanted.Delay, wanted.Area);
        backstopRun.Configure(backstopOn, wanted.BackstopDelay, 0);
        if (IsSignalling && !IsOn) EndSwitchedOff(time);
        // Gathers up to now first, so that nothing can qualify before the change.
        if (hasValue) Value(time, micro, Arrival.Continues);
    }

    private void EndSwitchedOff(long time)
    {
        if (board[condition].IsSuspended) EndSignal(lossAt, time, SignalEnding.Lost);
        else EndSignal(time, time, SignalEnding.Cleared);
    }

    private long Depth(int micro, int limit) => isHigh ? (long)micro - limit : (long)limit - micro;

    private void EndSignal(long at, long decided, SignalEnding ending)
    {
        raised = false;
        board.End(condition, at, decided, ending);
    }

    private void CloseRuns()
    {
        run.Close();
        backstopRun.Close();
    }

    /// <summary>What one condition's settings come down to.</summary>
    internal readonly record struct Thresholds(
        bool LimitOn, int LimitMicro, int MarginMicro, long Delay, long Area, AlarmPriority Priority,
        bool BackstopOn = false, int BackstopMicro = 0, long BackstopDelay = 0, AlarmPriority BackstopPriority = AlarmPriority.None);
}
