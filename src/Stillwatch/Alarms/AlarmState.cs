using Stillwatch.Conditioning;
using Stillwatch.Time;

namespace Stillwatch.Alarms;

/// <summary>One condition's signal as it stands.</summary>
/// <param name="IsSignalling">A signal is current (suspended or not).</param>
/// <param name="IsSuspended">Its value is lost (R9).</param>
/// <param name="IsLatched">The condition is gone, the signal waits for an acknowledgement.</param>
/// <param name="IsAcknowledged">Somebody has acknowledged it.</param>
/// <param name="IsShown">It is in sight.</param>
/// <param name="IsHeard">It is to be heard.</param>
/// <param name="Since">When it started; null: none is current.</param>
/// <param name="Priority">Its priority; none where nothing is current or latched.</param>
public readonly record struct ConditionState(
    bool IsSignalling, bool IsSuspended, bool IsLatched, bool IsAcknowledged, bool IsShown, bool IsHeard, SampleTime? Since, AlarmPriority Priority);

/// <summary>All that the engine remembers of one patient's feed between steps. Owned by one caller; not thread-safe.</summary>
public sealed class AlarmState
{
    private const int SpO2Index = 0;
    private const int PulseRateIndex = 1;
    private readonly Duration perfusionPeriod;

    internal AlarmState(AlarmSettings settings, AlarmFeed feed)
    {
        Settings = settings;
        Board = new SignalBoard();
        NoReading = new NoReadingWatch(Board, 2);
        Technical = new TechnicalWatch(Board);
        Annunciator = new Annunciator(Board);
        if (feed.SpO2Period is { } spO2Period)
        {
            SpO2 = new ChannelWatch(SpO2Index, ConditionedQuantity.SpO2, spO2Period, settings.SpO2Conditioning,
                new LimitWatch(AlarmCondition.SpO2Low, isHigh: false, Board), new LimitWatch(AlarmCondition.SpO2High, isHigh: true, Board), NoReading);
        }

        if (feed.PulseRatePeriod is { } pulseRatePeriod)
        {
            PulseRate = new ChannelWatch(PulseRateIndex, ConditionedQuantity.PulseRate, pulseRatePeriod, settings.PulseConditioning,
                new LimitWatch(AlarmCondition.PulseRateLow, isHigh: false, Board), new LimitWatch(AlarmCondition.PulseRateHigh, isHigh: true, Board), NoReading);
        }

        var some = SpO2?.Period ?? PulseRate?.Period ?? new Duration(1000);
        perfusionPeriod = feed.PerfusionPeriod ?? some;
        ShortestPeriod = PulseRate is { } p && p.Period < some ? p.Period : some;
    }

    /// <summary>The settings in force.</summary>
    public AlarmSettings Settings { get; internal set; }

    /// <summary>The time reached; null before the first input of a feed without a known connection.</summary>
    public SampleTime? Now => NowMilliseconds == long.MinValue ? null : new SampleTime(NowMilliseconds);

    public bool HasEnded { get; internal set; }

    /// <summary>The compared SpO2 in millionths that holds now; null: none.</summary>
    public int? SpO2Micro => SpO2 is { IsHolding: true } ? SpO2.CurrentMicro : null;

    /// <summary>The compared pulse rate in millionths that holds now; null: none.</summary>
    public int? PulseRateMicro => PulseRate is { IsHolding: true } ? PulseRate.CurrentMicro : null;

    public ConditionState this[AlarmCondition condition]
    {
        get
        {
            var slot = Board[condition];
            bool current = slot.IsSignalling || slot.IsLatched;
            return new ConditionState(
                slot.IsSignalling, slot.IsSuspended, slot.IsLatched, slot.IsAcknowledged, slot.IsShown, slot.IsHeard,
                slot.IsSignalling ? new SampleTime(slot.StartedAt) : null, current ? slot.Priority : AlarmPriority.None);
        }
    }

    /// <summary>Audio paused or off, for all (null) or one condition alone.</summary>
    public InactivationState Audio(AlarmCondition? condition = null) => Annunciator.Audio(condition);

    /// <summary>Alarm paused or off, for all (null) or one condition alone.</summary>
    public InactivationState Alarm(AlarmCondition? condition = null) => Annunciator.Alarm(condition);

    internal SignalBoard Board { get; }

    internal ChannelWatch? SpO2 { get; }

    internal ChannelWatch? PulseRate { get; }

    internal NoReadingWatch NoReading { get; }

    internal TechnicalWatch Technical { get; }

    internal Annunciator Annunciator { get; }

    internal Duration ShortestPeriod { get; }

    internal long NowMilliseconds { get; set; } = long.MinValue;

    internal long LastRowMilliseconds { get; set; } = long.MinValue;

    /// <summary>The first row or the connection has been.</summary>
    internal bool HasBegun { get; private set; }

    internal SourceStates StatedBySource { get; set; }

    internal SourceStates StatedByRow { get; set; }

    /// <summary>How long a perfusion index is believed (R5 with its own period).</summary>
    internal long PerfusionHoldMilliseconds { get; private set; }

    internal long Deadline => Math.Min(
        Math.Min(SpO2?.Deadline ?? LimitRun.Never, PulseRate?.Deadline ?? LimitRun.Never),
        Math.Min(NoReading.Deadline, Math.Min(Technical.Deadline, Annunciator.Deadline)));

    internal void Begin(long time)
    {
        if (HasBegun) return;
        HasBegun = true;
        if (SpO2 is not null) NoReading.Begin(SpO2Index, time);
        if (PulseRate is not null) NoReading.Begin(PulseRateIndex, time);
        Technical.FeedLives(time);
    }

    /// <summary>Puts <see cref="Settings"/> into force at an instant.</summary>
    internal void Apply(long time)
    {
        var (settings, priorities) = (Settings, Settings.Priorities);
        PerfusionHoldMilliseconds = settings.SpO2Conditioning.HoldAfter(perfusionPeriod).Milliseconds;
        Board.Latching = settings.Annunciation.Latching;
        Annunciator.Configure(settings.Annunciation);
        Technical.Configure(settings.Technical, priorities, ShortestPeriod.Milliseconds, time);
        NoReading.Configure(settings.Technical.NoReadingDelay.Milliseconds, priorities.Of(AlarmCondition.NoReading), time);
        var low = Thresholds(settings.SpO2Low, priorities.Of(AlarmCondition.SpO2Low));
        if (settings.Backstop is { } backstop)
        {
            low = low with
            {
                BackstopOn = true,
                BackstopMicro = backstop.Limit.Micro,
                BackstopDelay = backstop.Delay.Milliseconds,
                BackstopPriority = priorities.OfBackstop,
            };
        }

        SpO2?.Apply(settings.SpO2Conditioning, low, Thresholds(settings.SpO2High, priorities.Of(AlarmCondition.SpO2High)), time);
        PulseRate?.Apply(
            settings.PulseConditioning,
            Thresholds(settings.PulseRateLow, priorities.Of(AlarmCondition.PulseRateLow)),
            Thresholds(settings.PulseRateHigh, priorities.Of(AlarmCondition.PulseRateHigh)),
            time);
    }

    private static LimitWatch.Thresholds Thresholds<T>(LimitSettings<T>? limit, AlarmPriority priority)
        where T : struct, Quantities.IQuantity<T> =>
        limit is null
            ? default
            : new LimitWatch.Thresholds(true, limit.Limit.Micro, limit.ClearMargin.Micro, limit.Delay.Milliseconds, limit.AreaThreshold.MicroMilliseconds, priority);
}
