namespace Stillwatch.Alarms;

/// <summary>
/// The condition <see cref="AlarmCondition.NoReading"/> over all monitored channels: one condition, however many of them have
/// no value. A channel lost with something open asks for it at once, at the highest priority then open (R9); otherwise a
/// channel asks for it after the delay, counted from its loss or, where no value ever came, from the first row or the
/// connection.
/// </summary>
internal sealed class NoReadingWatch(SignalBoard board, int channelCount)
{
    private readonly Channel[] channels = new Channel[channelCount];
    private long delay;
    private AlarmPriority ownPriority;

    public long Deadline { get; private set; } = LimitRun.Never;

    public void Configure(long delayMilliseconds, AlarmPriority priority, long now)
    {
        delay = delayMilliseconds;
        ownPriority = priority;
        Refresh(now);
    }

    /// <summary>The channel is monitored from now on, by its first row or the connection.</summary>
    public void Begin(int channel, long time)
    {
        channels[channel] = new Channel { IsWithout = true, Since = time };
        Refresh(time);
    }

    public void Has(int channel, long time)
    {
        channels[channel] = default;
        Refresh(time);
        if (!board[AlarmCondition.NoReading].IsSignalling) return;
        foreach (var other in channels)
        {
            if (other.Asks) return;
        }

        board.End(AlarmCondition.NoReading, time, time, SignalEnding.Cleared);
    }

    public void Lost(int channel, long time, AlarmPriority open)
    {
        channels[channel] = new Channel { IsWithout = true, Since = time };
        if (open > AlarmPriority.None) Ask(channel, time, open);
        Refresh(time);
    }

    /// <summary>A channel's own delay is full. A condition that began at the lower priority of what was open rises to its own.</summary>
    public void Fire(long time)
    {
        for (int i = 0; i < channels.Length; i++)
        {
            if (!channels[i].IsDelayPending || DueAt(i, time) != time) continue;
            channels[i].IsDelayDone = true;
            Ask(i, time, ownPriority);
        }

        Refresh(time);
    }

    private void Ask(int channel, long time, AlarmPriority priority)
    {
        bool isNew = !channels[channel].Asks;
        channels[channel].Asks = true;
        if (board[AlarmCondition.NoReading].IsSignalling) board.Raise(AlarmCondition.NoReading, time, priority, isNew);
        else board.Start(AlarmCondition.NoReading, time, priority);
    }

    private long DueAt(int channel, long now) => Math.Max(channels[channel].Since + delay, now);

    private void Refresh(long now)
    {
        long earliest = LimitRun.Never;
        if (ownPriority != AlarmPriority.None)
        {
            for (int i = 0; i < channels.Length; i++)
            {
                if (channels[i].IsDelayPending) earliest = Math.Min(earliest, DueAt(i, now));
            }
        }

        Deadline = earliest;
    }

    private struct Channel
    {
        public bool IsWithout;
        public bool Asks;
        public bool IsDelayDone;
        public long Since;

        public readonly bool IsDelayPending => IsWithout && !IsDelayDone;
    }
}
