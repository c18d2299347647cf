using Stillwatch.Conditioning;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Alarms;

/// <summary>
/// Rules R1–R12 as one pure step: no clock, no input or output, no randomness, no allocation for a row or an advance once the
/// buffers have grown. Live beds, replay, tuning and rehearsal all drive it.
/// </summary>
/// <remarks>
/// Order (R10): a step to t first fires the deadlines before t, then applies the input at t. Deadlines at t wait: another
/// input at t would come before them. Among deadlines at one instant: for SpO2, then for pulse rate, the loss or the end of
/// the wait for a return, then delays and areas that are full; then technical conditions; then pauses and reminders.
/// </remarks>
public static class AlarmEngine
{
    /// <summary>Times beyond this many milliseconds either side of the origin (31 700 years) are refused.</summary>
    public const long FurthestMilliseconds = 1_000_000_000_000_000;

    private const long LongestPeriodMilliseconds = FurthestMilliseconds / 10;
    private const long LongestPauseMilliseconds = 86_400_000;
    private const SourceStates MakesRowsInvalid = SourceStates.NotValid | SourceStates.SensorOff | SourceStates.SensorDisconnected;

    /// <exception cref="ArgumentException">The settings contradict the rules (<see cref="AlarmSettingsCheck"/>), or the feed's periods or connection are out of bounds.</exception>
    public static AlarmState Start(AlarmSettings settings, AlarmFeed feed)
    {
        AlarmSettingsCheck.ThrowIfUnusable(settings);
        CheckPeriod(feed.SpO2Period, "SpO2");
        CheckPeriod(feed.PulseRatePeriod, "pulse rate");
        CheckPeriod(feed.PerfusionPeriod, "perfusion");
        var state = new AlarmState(settings, feed);
        if (feed.ConnectedAt is { } connected)
        {
            if (!IsInBounds(connected.Milliseconds))
                throw new ArgumentException($"Connection: found {connected}, expected within {FurthestMilliseconds} ms of the origin.", nameof(feed));
            state.NowMilliseconds = connected.Milliseconds;
        }

        state.Apply(state.NowMilliseconds);
        if (feed.ConnectedAt is not null) state.Begin(state.NowMilliseconds);
        return state;
    }

    /// <summary>The next instant at which something would happen without another input; null: none. It happens once time is advanced past it.</summary>
    public static SampleTime? NextDeadline(AlarmState state)
    {
        long deadline = state.HasEnded ? LimitRun.Never : state.Deadline;
        return deadline == LimitRun.Never ? null : new SampleTime(deadline);
    }

    /// <summary>
    /// Takes one input. An input that cannot be used changes nothing and is reported as <see cref="AlarmChangeKind.InputLate"/>,
    /// <see cref="AlarmChangeKind.RowRepeated"/> or <see cref="AlarmChangeKind.InputRefused"/>; no input makes it throw.
    /// </summary>
    /// <param name="state">Changed in place.</param>
    /// <param name="input">What came.</param>
    /// <param name="changes">Emptied, then filled with what this step brought about.</param>
    public static void Step(AlarmState state, in AlarmInput input, AlarmChanges changes)
    {
        changes.Clear();
        long time = input.Time.Milliseconds;
        if (Refusal(state, input) is { } refusal)
        {
            changes.Add(refusal, null, time, time);
            return;
        }

        state.Board.Changes = changes;
        FireBefore(state, time);
        state.NowMilliseconds = time;
        switch (input.Kind)
        {
            case AlarmInputKind.Row:
                Row(state, input.Row, changes);
                break;
            case AlarmInputKind.SourceStates:
                state.StatedBySource = input.States;
                state.Technical.SourceSays(time, state.StatedBySource | state.StatedByRow);
                break;
            case AlarmInputKind.OperatorAction:
                state.Annunciator.Act(time, input.Action, input.Condition, input.Length?.Milliseconds);
                break;
            case AlarmInputKind.SettingsChange:
                state.Settings = input.Settings!;
                state.Apply(time);
                break;
            case AlarmInputKind.EndOfRecording:
                End(state, time);
                break;
            default:
                break;
        }

        state.Annunciator.Present(time);
    }

    private static AlarmChangeKind? Refusal(AlarmState state, in AlarmInput input)
    {
        long time = input.Time.Milliseconds;
        if (state.HasEnded || !IsInBounds(time)) return AlarmChangeKind.InputRefused;
        if (time < state.NowMilliseconds) return AlarmChangeKind.InputLate;
        return input.Kind switch
        {
            AlarmInputKind.Row => time == state.LastRowMilliseconds ? AlarmChangeKind.RowRepeated : null,
            AlarmInputKind.OperatorAction => IsUsable(input) ? null : AlarmChangeKind.InputRefused,
            AlarmInputKind.SettingsChange => input.Settings is { } s && AlarmSettingsCheck.Problems(s).Count == 0 ? null : AlarmChangeKind.InputRefused,
            AlarmInputKind.Advance or AlarmInputKind.SourceStates or AlarmInputKind.EndOfRecording => null,
            _ => AlarmChangeKind.InputRefused,
        };
    }

    private static bool IsUsable(in AlarmInput input) =>
        input.Action is >= OperatorAction.PauseAudio and <= OperatorAction.EndAcknowledgement
        && input.Condition is null or (>= AlarmCondition.SpO2Low and <= AlarmCondition.ImplausibleValue)
        && input.Length is null or { Milliseconds: > 0 and <= LongestPauseMilliseconds };

    private static void FireBefore(AlarmState state, long target)
    {
        for (long deadline = state.Deadline; deadline < target; deadline = state.Deadline)
        {
            state.NowMilliseconds = deadline;
            if (state.SpO2?.Deadline == deadline) state.SpO2.Fire(deadline);
            else if (state.PulseRate?.Deadline == deadline) state.PulseRate.Fire(deadline);
            else if (state.NoReading.Deadline == deadline) state.NoReading.Fire(deadline);
            else if (state.Technical.Deadline == deadline) state.Technical.Fire(deadline);
            else state.Annunciator.Fire(deadline, target);
            state.Annunciator.Present(deadline);
        }
    }

    private static void Row(AlarmState state, in AlarmRow row, AlarmChanges changes)
    {
        long time = row.Time.Milliseconds;
        state.LastRowMilliseconds = time;
        state.Begin(time);
        state.Technical.FeedLives(time);
        state.StatedByRow = row.Flags;
        var flags = state.StatedBySource | state.StatedByRow;
        state.Technical.SourceSays(time, flags);
        bool isQualityKnown = row.QualityMicro != ValueColumn.Missing && state.Settings.Technical.QualityThresholdMicro is not null;
        bool isPoor = OutsideJudge.IsPoor(row.QualityMicro, state.Settings.Technical.QualityThresholdMicro);
        bool isFlagged = (flags & MakesRowsInvalid) != 0;
        if (state.SpO2 is { } spO2)
        {
            var verdict = spO2.Row(time, row.SpO2Micro, isFlagged, isPoor);
            changes.SpO2Verdict = verdict;
            if (verdict.IsAccepted())
                state.Technical.Measured(AlarmCondition.ImplausibleValue, time, verdict == SampleVerdict.AcceptedImplausible, time + spO2.HoldMilliseconds);
        }

        if (state.PulseRate is { } pulseRate) changes.PulseRateVerdict = pulseRate.Row(time, row.PulseRateMicro, isFlagged, isPoor);
        if (isQualityKnown) state.Technical.Measured(AlarmCondition.SignalInadequate, time, isPoor, time + state.PerfusionHoldMilliseconds);
        if (row.PerfusionMicro != ValueColumn.Missing && state.Settings.Technical.LowPerfusionBelow is { } low)
            state.Technical.Measured(AlarmCondition.LowPerfusion, time, row.PerfusionMicro < low.Micro, time + state.PerfusionHoldMilliseconds);
    }

    private static void End(AlarmState state, long time)
    {
        state.SpO2?.End(time);
        state.PulseRate?.End(time);
        for (var condition = AlarmCondition.NoReading; condition <= AlarmCondition.ImplausibleValue; condition++)
        {
            if (state.Board[condition].IsSignalling) state.Board.End(condition, time, time, SignalEnding.End);
        }

        state.HasEnded = true;
    }

    private static bool IsInBounds(long milliseconds) => milliseconds is >= -FurthestMilliseconds and <= FurthestMilliseconds;

    private static void CheckPeriod(Duration? period, string channel)
    {
        if (period is { Milliseconds: < 1 or > LongestPeriodMilliseconds } found)
            throw new ArgumentException($"Period of {channel}: found {found}, expected 0.001 s or longer.", nameof(period));
    }
}
