using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Replay.Fidelity;

/// <summary>The engine run again with one setting changed, over a small grid. What it gives is evidence about settings, no proposal.</summary>
internal static class ChangedReplays
{
    private const int LimitSteps = 5;
    private static readonly int[] DelaysTried = [0, 2, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 45, 60, 90, 120];
    private static readonly int[] AveragingsTried = [0, 2, 4, 8, 12, 16, 30];

    /// <summary>The signals of one condition under a change.</summary>
    public sealed class Run(SettingsChange change, AlarmCondition condition, IReadOnlyList<ReplayedSignal> signals)
    {
        public SettingsChange Change { get; } = change;

        public AlarmCondition Condition { get; } = condition;

        public IReadOnlyList<ReplayedSignal> Signals { get; } = signals;
    }

    /// <summary>
    /// Every change of every limit that is on. The physiological conditions do not touch each other, so one run of the engine tries
    /// the same step on all of them at once.
    /// </summary>
    public static IReadOnlyList<Run> Of(Recording recording, AlarmSettings settings)
    {
        var runs = new List<Run>();
        foreach (int step in Enumerable.Range(1, LimitSteps).SelectMany(s => new[] { s, -s })) Try(new Trial(settings).WithLimits(step));
        foreach (int seconds in DelaysTried) Try(new Trial(settings).WithDelays(new Duration(seconds * 1000L)));
        foreach (int seconds in AveragingsTried) Try(new Trial(settings).WithAveraging(new Duration(seconds * 1000L)));
        Try(new Trial(settings).WithoutBackstop());
        return runs;

        void Try(Trial trial)
        {
            if (trial.Changes.Count == 0) return;
            var signals = Replayer.Run(recording, trial.Settings).Signals;
            foreach (var (condition, change) in trial.Changes) runs.Add(new Run(change, condition, [.. signals.Where(s => s.Condition == condition)]));
        }
    }

    /// <summary>Settings with one step of change for each condition where the changed setting can be.</summary>
    private sealed class Trial
    {
        private readonly AlarmSettings given;

        public Trial(AlarmSettings given)
        {
            this.given = given;
            Settings = given;
        }

        public AlarmSettings Settings { get; private set; }

        public List<(AlarmCondition Condition, SettingsChange Change)> Changes { get; } = [];

        public Trial WithLimits(int step)
        {
            int micro = step * FixedPoint.One;
            Settings = Settings with
            {
                SpO2Low = Moved(given.SpO2Low, AlarmCondition.SpO2Low, micro, l => l.Limit > (given.Backstop?.Limit ?? Percent.FromMicro(0)) && (long)l.Limit.Micro + l.ClearMargin.Micro <= 100L * FixedPoint.One),
                SpO2High = Moved(given.SpO2High, AlarmCondition.SpO2High, micro, l => l.Limit < Percent.FromMicro(100 * FixedPoint.One) && l.Limit.Micro >= l.ClearMargin.Micro),
                PulseRateLow = Moved(given.PulseRateLow, AlarmCondition.PulseRateLow, micro, l => l.Limit.Micro > 0),
                PulseRateHigh = Moved(given.PulseRateHigh, AlarmCondition.PulseRateHigh, micro, l => l.Limit.Micro >= l.ClearMargin.Micro),
            };
            return this;
        }

        public Trial WithDelays(Duration delay)
        {
            Settings = Settings with
            {
                SpO2Low = Delayed(given.SpO2Low, AlarmCondition.SpO2Low, delay),
                SpO2High = Delayed(given.SpO2High, AlarmCondition.SpO2High, delay),
                PulseRateLow = Delayed(given.PulseRateLow, AlarmCondition.PulseRateLow, delay),
                PulseRateHigh = Delayed(given.PulseRateHigh, AlarmCondition.PulseRateHigh, delay),
            };
            return this;
        }

        public Trial WithAveraging(Duration averaging)
        {
            Settings = Settings with
            {
                SpO2Conditioning = Averaged(given.SpO2Conditioning, averaging, AlarmCondition.SpO2Low, given.SpO2Low is not null || given.Backstop is not null, AlarmCondition.SpO2High, given.SpO2High is not null),
                PulseConditioning = Averaged(given.PulseConditioning, averaging, AlarmCondition.PulseRateLow, given.PulseRateLow is not null, AlarmCondition.PulseRateHigh, given.PulseRateHigh is not null),
            };
            return this;
        }

        public Trial WithoutBackstop()
        {
            if (given is not { Backstop: not null, SpO2Low: not null }) return this;
            Settings = Settings with { Backstop = null };
            Changes.Add((AlarmCondition.SpO2Low, new SettingsChange(SettingsChangeKind.NoBackstop, AlarmCondition.SpO2Low, 0, Duration.Zero, 0)));
            return this;
        }

        private LimitSettings<T>? Moved<T>(LimitSettings<T>? limit, AlarmCondition condition, int byMicro, Func<LimitSettings<T>, bool> canBe)
            where T : struct, IQuantity<T>
        {
            if (limit is null) return null;
            var moved = limit with { Limit = T.FromMicro(limit.Limit.Micro + byMicro) };
            if (moved.Limit.Micro <= 0 || !canBe(moved)) return limit;
            Changes.Add((condition, new SettingsChange(SettingsChangeKind.Limit, condition, moved.Limit.Micro, Duration.Zero, limit.Limit.Micro)));
            return moved;
        }

        private LimitSettings<T>? Delayed<T>(LimitSettings<T>? limit, AlarmCondition condition, Duration delay)
            where T : struct, IQuantity<T>
        {
            if (limit is null || limit.Delay == delay) return limit;
            Changes.Add((condition, new SettingsChange(SettingsChangeKind.Delay, condition, 0, delay, limit.Delay.Milliseconds)));
            return limit with { Delay = delay };
        }

        private ConditioningSettings Averaged(ConditioningSettings conditioning, Duration averaging, AlarmCondition low, bool isLowOn, AlarmCondition high, bool isHighOn)
        {
            if (conditioning.Averaging == averaging || (!isLowOn && !isHighOn)) return conditioning;
            var change = new SettingsChange(SettingsChangeKind.Averaging, low, 0, averaging, conditioning.Averaging.Milliseconds);
            if (isLowOn) Changes.Add((low, change));
            if (isHighOn) Changes.Add((high, change));
            return conditioning with { Averaging = averaging };
        }
    }
}
