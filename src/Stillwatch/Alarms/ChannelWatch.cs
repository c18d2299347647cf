using Stillwatch.Conditioning;
using Stillwatch.Time;

namespace Stillwatch.Alarms;

/// <summary>One monitored channel: the conditioner, what holds until when, losses and returns (R5, R9), and the limits on it.</summary>
internal sealed class ChannelWatch
{
    private readonly ConditionedQuantity quantity;
    private readonly Duration period;
    private readonly LimitWatch low;
    private readonly LimitWatch high;
    private readonly NoReadingWatch noReading;
    private readonly int index;
    private Conditioner conditioner;
    private ConditioningSettings conditioning;
    private long holdMilliseconds;
    private bool any;
    private bool validSinceLoss;
    private bool backInTime;
    private bool gaveUp;
    private long holdEnd; // while nothing holds: the instant of the loss
    private long limitsDeadline = LimitRun.Never;

    public ChannelWatch(int index, ConditionedQuantity quantity, Duration period, ConditioningSettings conditioning, LimitWatch low, LimitWatch high, NoReadingWatch noReading)
    {
        this.index = index;
        this.quantity = quantity;
        this.period = period;
        this.low = low;
        this.high = high;
        this.noReading = noReading;
        this.conditioning = conditioning;
        conditioner = new Conditioner(quantity, conditioning, period);
        holdMilliseconds = conditioner.HoldMilliseconds;
    }

    public Duration Period => period;

    public long HoldMilliseconds => holdMilliseconds;

    /// <summary>Whether a compared value holds now.</summary>
    public bool IsHolding { get; private set; }

    /// <summary>The compared value; meaningless while none holds.</summary>
    public int CurrentMicro { get; private set; }

    public long Deadline
    {
        get
        {
            if (IsHolding) return Math.Min(holdEnd, limitsDeadline);
            return any && !validSinceLoss && !gaveUp ? holdEnd + ConditionedScan.ReturnWithinMilliseconds : LimitRun.Never;
        }
    }

    public SampleVerdict Row(long time, int micro, bool flagged, bool poor)
    {
        var verdict = conditioner.Accept(time, micro, flagged, poor, out int compared, out bool hasCompared);
        if (!verdict.IsAccepted()) return verdict;
        if (any && !IsHolding && !validSinceLoss)
        {
            validSinceLoss = true;
            backInTime = time - holdEnd <= ConditionedScan.ReturnWithinMilliseconds;
        }

        if (!hasCompared) return verdict;
        if (IsHolding && compared == CurrentMicro)
        {
            holdEnd = time + holdMilliseconds; // the same number again: runs go on by themselves
            return verdict;
        }

        var arrival = !any ? Arrival.First
            : IsHolding ? Arrival.Continues
            : backInTime ? Arrival.BackInTime : Arrival.BackTooLate;
        if (!IsHolding) noReading.Has(index, time);
        any = true;
        IsHolding = true;
        CurrentMicro = compared;
        holdEnd = time + holdMilliseconds;
        low.Value(time, compared, arrival);
        high.Value(time, compared, arrival);
        RefreshDeadline();
        return verdict;
    }

    /// <summary>A loss comes before a delay or an area that is full at the same instant: those qualify at the return (R9).</summary>
    public void Fire(long time)
    {
        if (IsHolding && holdEnd == time)
        {
            Lose(time);
        }
        else if (!IsHolding)
        {
            gaveUp = true;
            low.GiveUp(time);
            high.GiveUp(time);
        }
        else if (low.Deadline == time)
        {
            low.Fire(time);
        }
        else
        {
            high.Fire(time);
        }

        RefreshDeadline();
    }

    public void End(long time)
    {
        low.End(time);
        high.End(time);
    }

    public void Apply(ConditioningSettings wanted, in LimitWatch.Thresholds lowWanted, in LimitWatch.Thresholds highWanted, long time)
    {
        if (wanted != conditioning)
        {
            conditioning = wanted;
            conditioner = new Conditioner(quantity, wanted, period);
            holdMilliseconds = conditioner.HoldMilliseconds;
        }

        low.Apply(lowWanted, time, IsHolding, CurrentMicro);
        high.Apply(highWanted, time, IsHolding, CurrentMicro);
        RefreshDeadline();
    }

    private void Lose(long time)
    {
        var open = (AlarmPriority)Math.Max((int)low.OpenPriority, (int)high.OpenPriority);
        IsHolding = false;
        validSinceLoss = false;
        gaveUp = false;
        low.Lose(time);
        high.Lose(time);
        noReading.Lost(index, time, open);
    }

    private void RefreshDeadline() => limitsDeadline = Math.Min(low.Deadline, high.Deadline);
}
