namespace Stillwatch.Alarms;

/// <summary>
/// Technical conditions that a source states or a number shows, each with its own delay, and the stale feed. (The condition of
/// having no reading is <see cref="NoReadingWatch"/>'s.)
/// </summary>
internal sealed class TechnicalWatch(SignalBoard board)
{
    private static readonly (AlarmCondition Condition, SourceStates Flag)[] Stated =
    [
        (AlarmCondition.SignalInadequate, SourceStates.SignalInadequate),
        (AlarmCondition.LowPerfusion, SourceStates.LowPerfusion),
        (AlarmCondition.Interference, SourceStates.Interference),
        (AlarmCondition.SensorOff, SourceStates.SensorOff),
        (AlarmCondition.SensorDisconnected, SourceStates.SensorDisconnected),
        (AlarmCondition.SourceOnBattery, SourceStates.OnBattery),
        (AlarmCondition.SourceBatteryLow, SourceStates.BatteryLow),
    ];

    private readonly Level[] levels = new Level[SignalBoard.Count];
    private readonly long[] delays = new long[SignalBoard.Count];
    private readonly AlarmPriority[] priorities = new AlarmPriority[SignalBoard.Count];
    private long levelsDeadline = LimitRun.Never;
    private long rowsExpectedWithin;
    private long lastSign = LimitRun.Never; // of the feed: its last row, or the connection
    private SourceStates flags;

    public long Deadline { get; private set; } = LimitRun.Never;

    public void Configure(TechnicalSettings settings, PrioritySettings priority, long shortestPeriod, long now)
    {
        for (var condition = AlarmCondition.NoReading; (int)condition < SignalBoard.Count; condition++)
        {
            delays[(int)condition] = settings.DelayOf(condition).Milliseconds;
            priorities[(int)condition] = priority.Of(condition);
        }

        rowsExpectedWithin = shortestPeriod;
        RefreshLevels(now);
    }

    /// <summary>A row came, or the connection was made.</summary>
    public void FeedLives(long time)
    {
        lastSign = time;
        if (board[AlarmCondition.StaleFeed].IsSignalling) board.End(AlarmCondition.StaleFeed, time, time, SignalEnding.Cleared);
        RefreshDeadline(time);
    }

    /// <summary>All that the source states at this instant.</summary>
    public void SourceSays(long time, SourceStates states)
    {
        if (states == flags) return;
        flags = states;
        foreach (var (condition, flag) in Stated)
        {
            levels[(int)condition].IsStated = (states & flag) != 0;
            Settle(condition, time, SignalEnding.Cleared);
        }

        RefreshLevels(time);
    }

    /// <summary>A number shows the condition, or that it is absent; without another number it is believed until an instant.</summary>
    public void Measured(AlarmCondition condition, long time, bool isPresent, long until)
    {
        ref var level = ref levels[(int)condition];
        if (!isPresent && !level.IsMeasured) return;
        level.IsMeasured = isPresent;
        level.MeasuredUntil = until;
        Settle(condition, time, SignalEnding.Cleared);
        RefreshLevels(time);
    }

    /// <summary>What ran out of belief first, then what has lasted its delay.</summary>
    public void Fire(long time)
    {
        for (int i = 0; i < levels.Length; i++)
        {
            ref var level = ref levels[i];
            var condition = (AlarmCondition)i;
            if (level.IsMeasured && level.MeasuredUntil <= time)
            {
                level.IsMeasured = false;
                Settle(condition, time, SignalEnding.Lost);
            }

            if (IsWaiting(i) && level.Since + delays[i] <= time) board.Start(condition, time, priorities[i]);
        }

        if (IsFeedWatched && StaleAt <= time) board.Start(AlarmCondition.StaleFeed, time, priorities[(int)AlarmCondition.StaleFeed]);
        RefreshLevels(time);
    }

    private bool IsFeedWatched =>
        lastSign != LimitRun.Never && priorities[(int)AlarmCondition.StaleFeed] != AlarmPriority.None && !board[AlarmCondition.StaleFeed].IsSignalling;

    private long StaleAt => lastSign + rowsExpectedWithin + delays[(int)AlarmCondition.StaleFeed];

    private bool IsWaiting(int index) =>
        levels[index].IsPresent && priorities[index] != AlarmPriority.None && !board[(AlarmCondition)index].IsSignalling;

    private void Settle(AlarmCondition condition, long time, SignalEnding ending)
    {
        ref var level = ref levels[(int)condition];
        bool present = level.IsStated || level.IsMeasured;
        if (present == level.IsPresent) return;
        level.IsPresent = present;
        level.Since = time;
        if (!present && board[condition].IsSignalling) board.End(condition, time, time, ending);
    }

    private void RefreshLevels(long now)
    {
        long earliest = LimitRun.Never;
        for (int i = 0; i < levels.Length; i++)
        {
            if (levels[i].IsMeasured) earliest = Math.Min(earliest, levels[i].MeasuredUntil);
            if (IsWaiting(i)) earliest = Math.Min(earliest, levels[i].Since + delays[i]);
        }

        levelsDeadline = Math.Max(earliest, now);
        RefreshDeadline(now);
    }

    // Never in the past: shorter delays may be set while one runs.
    private void RefreshDeadline(long now) =>
        Deadline = IsFeedWatched ? Math.Min(levelsDeadline, Math.Max(StaleAt, now)) : levelsDeadline;

    private struct Level
    {
        public bool IsStated;
        public bool IsMeasured;
        public bool IsPresent;
        public long MeasuredUntil;
        public long Since;
    }
}
