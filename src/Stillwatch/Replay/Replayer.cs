using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Replay;

/// <summary>The engine over a whole recording: what these settings would have signalled.</summary>
public static class Replayer
{
    /// <summary>All conditions over the recording's SpO2, pulse rate, perfusion, quality and validity channels.</summary>
    /// <remarks>
    /// Latching is left out (R12). A recording without SpO2 and pulse rate gives no signals; a pulse rate column without any
    /// number counts as none.
    /// </remarks>
    /// <exception cref="ArgumentException">The settings contradict the rules.</exception>
    public static ReplayResult Run(Recording recording, AlarmSettings settings)
    {
        int? threshold = settings.Technical.QualityThresholdMicro;
        var spO2 = ConditionedSource.SpO2Of(recording, threshold);
        var pulseRate = ConditionedSource.PulseRateOf(recording, threshold);
        // An empty column is no monitored pulse: it would mean "no reading" all night and drown the losses of SpO2.
        if (pulseRate is not null && !HasNumbers(pulseRate.Channel.Values)) pulseRate = null;
        var rows = new RecordingRows(
            spO2?.Channel, pulseRate?.Channel, recording.Find(ChannelKind.PerfusionIndex),
            recording.Find(ChannelKind.SourceValid), recording.Find(ChannelKind.SignalQuality));
        var unattended = settings with { Annunciation = settings.Annunciation with { Latching = default } };
        var signals = Drive(rows, unattended);
        var valid = spO2 is not null ? ConditionedSeries.Of(spO2, settings.SpO2Conditioning).Valid
            : pulseRate is not null ? ConditionedSeries.Of(pulseRate, settings.PulseConditioning).Valid : Duration.Zero;
        return new ReplayResult(signals, valid, rows.End - rows.First);
    }

    /// <summary>Signals of SpO2 low, with or without a backstop, by start.</summary>
    /// <exception cref="ArgumentException">The settings contradict the rules, or the source is not SpO2.</exception>
    public static IReadOnlyList<ReplayedSignal> RunLow(ConditionedSource source, LimitSettings<Percent> low, BackstopSettings? backstop, ConditioningSettings conditioning) =>
        RunOne(source, ConditionedQuantity.SpO2, AlarmCondition.SpO2Low, new AlarmSettings { SpO2Low = low, Backstop = backstop, SpO2Conditioning = conditioning });

    /// <summary>Signals of SpO2 high, by start.</summary>
    /// <exception cref="ArgumentException">The settings contradict the rules, or the source is not SpO2.</exception>
    public static IReadOnlyList<ReplayedSignal> RunHigh(ConditionedSource source, LimitSettings<Percent> high, ConditioningSettings conditioning) =>
        RunOne(source, ConditionedQuantity.SpO2, AlarmCondition.SpO2High, new AlarmSettings { SpO2High = high, SpO2Conditioning = conditioning });

    /// <summary>Signals of pulse rate low, by start.</summary>
    /// <exception cref="ArgumentException">The settings contradict the rules, or the source is not a pulse rate.</exception>
    public static IReadOnlyList<ReplayedSignal> RunPulseLow(ConditionedSource source, LimitSettings<BeatsPerMinute> low, ConditioningSettings conditioning) =>
        RunOne(source, ConditionedQuantity.PulseRate, AlarmCondition.PulseRateLow, new AlarmSettings { PulseRateLow = low, PulseConditioning = conditioning });

    /// <summary>Signals of pulse rate high, by start.</summary>
    /// <exception cref="ArgumentException">The settings contradict the rules, or the source is not a pulse rate.</exception>
    public static IReadOnlyList<ReplayedSignal> RunPulseHigh(ConditionedSource source, LimitSettings<BeatsPerMinute> high, ConditioningSettings conditioning) =>
        RunOne(source, ConditionedQuantity.PulseRate, AlarmCondition.PulseRateHigh, new AlarmSettings { PulseRateHigh = high, PulseConditioning = conditioning });

    private static bool HasNumbers(ValueColumn values)
    {
        for (int i = 0; i < values.Count; i++)
        {
            if (values[i] != ValueColumn.Missing) return true;
        }

        return false;
    }

    private static List<ReplayedSignal> RunOne(ConditionedSource source, ConditionedQuantity expected, AlarmCondition condition, AlarmSettings settings)
    {
        if (source.Quantity != expected)
            throw new ArgumentException($"Channel '{source.Channel.Label}': found {source.Quantity}, expected {expected}.", nameof(source));
        bool isSpO2 = expected == ConditionedQuantity.SpO2;
        var rows = new RecordingRows(isSpO2 ? source.Channel : null, isSpO2 ? null : source.Channel, null, source.SourceValid, source.Quality);
        var judged = settings with { Technical = settings.Technical with { QualityThresholdMicro = source.QualityThresholdMicro } };
        return [.. Drive(rows, judged).Where(s => s.Condition == condition)];
    }

    private static IReadOnlyList<ReplayedSignal> Drive(RecordingRows rows, AlarmSettings settings)
    {
        var state = AlarmEngine.Start(settings, rows.Feed);
        if (!rows.HasRows) return [];
        var changes = new AlarmChanges();
        var collector = new SignalCollector();
        while (rows.TryNext(out var row)) Step(AlarmInput.Of(row));
        Step(AlarmInput.End(rows.End));
        return collector.Ended();

        void Step(in AlarmInput input)
        {
            AlarmEngine.Step(state, input, changes);
            if (changes.Count > 0 && changes[0].Kind == AlarmChangeKind.InputRefused)
                throw new ArgumentException($"Recording: found a row at {input.Time}, expected within {AlarmEngine.FurthestMilliseconds} ms of the origin.");
            collector.Take(changes);
        }
    }
}
