using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Alarms;

/// <summary>
/// When technical conditions begin. All numbers are unit policy, no source. Delays are strict, as in R7: what is gone when
/// its delay is just full gives no signal.
/// </summary>
public sealed record TechnicalSettings
{
    private static readonly Duration TenSeconds = new(10_000);

    // After what it is made of: static fields are set in the order they stand.
    public static readonly TechnicalSettings Default = new();

    /// <summary>For a loss without an open run; with one there is no delay (R9). Where no value ever came it counts from the first row or the connection.</summary>
    public Duration NoReadingDelay { get; init; } = TenSeconds;

    /// <summary>A signal quality below this (millionths of the source's own unit) makes SpO2 not valid (R2) and the signal inadequate; null: quality is shown, not judged.</summary>
    public int? QualityThresholdMicro { get; init; }

    public Duration SignalInadequateDelay { get; init; } = TenSeconds;

    /// <summary>A perfusion index below this is low; null: only the source's own word counts.</summary>
    public Percent? LowPerfusionBelow { get; init; } = Percent.FromMicro(300_000);

    public Duration LowPerfusionDelay { get; init; } = new(30_000);

    public Duration InterferenceDelay { get; init; } = TenSeconds;

    public Duration SensorOffDelay { get; init; } = Duration.Zero;

    public Duration SensorDisconnectedDelay { get; init; } = Duration.Zero;

    /// <summary>Beyond one period without any row.</summary>
    public Duration StaleFeedDelay { get; init; } = TenSeconds;

    public Duration SourceOnBatteryDelay { get; init; } = Duration.Zero;

    public Duration SourceBatteryLowDelay { get; init; } = Duration.Zero;

    public Duration ImplausibleValueDelay { get; init; } = Duration.Zero;

    /// <exception cref="ArgumentOutOfRangeException">The condition is not technical.</exception>
    public Duration DelayOf(AlarmCondition condition) => condition switch
    {
        AlarmCondition.NoReading => NoReadingDelay,
        AlarmCondition.SignalInadequate => SignalInadequateDelay,
        AlarmCondition.LowPerfusion => LowPerfusionDelay,
        AlarmCondition.Interference => InterferenceDelay,
        AlarmCondition.SensorOff => SensorOffDelay,
        AlarmCondition.SensorDisconnected => SensorDisconnectedDelay,
        AlarmCondition.StaleFeed => StaleFeedDelay,
        AlarmCondition.SourceOnBattery => SourceOnBatteryDelay,
        AlarmCondition.SourceBatteryLow => SourceBatteryLowDelay,
        AlarmCondition.ImplausibleValue => ImplausibleValueDelay,
        _ => throw new ArgumentOutOfRangeException(nameof(condition), condition, "Expected a technical condition."),
    };
}
