using Stillwatch.Time;

namespace Stillwatch.Alarms;

/// <summary>What is known of a feed before its first row.</summary>
/// <param name="SpO2Period">P of the SpO2 channel (R1); null: SpO2 is not monitored.</param>
/// <param name="PulseRatePeriod">P of the pulse rate; null: it is not monitored.</param>
/// <param name="PerfusionPeriod">P of the perfusion index; null: as SpO2's.</param>
/// <param name="ConnectedAt">When the feed was connected; null: with its first row.</param>
public sealed record AlarmFeed(Duration? SpO2Period, Duration? PulseRatePeriod = null, Duration? PerfusionPeriod = null, SampleTime? ConnectedAt = null);
