using Stillwatch.Time;

namespace Stillwatch.Alarms;

/// <summary>
/// What is heard and shown, never what is counted (R12). The times are unit policy, no source; the states themselves are
/// those of IEC 60601-1-8.
/// </summary>
public sealed record AnnunciationSettings
{
    public static readonly AnnunciationSettings Default = new();

    /// <summary>Conditions whose signal goes on after they are gone until somebody acknowledges it.</summary>
    public AlarmConditionSet Latching { get; init; }

    public Duration AudioPausedFor { get; init; } = new(120_000);

    public Duration AlarmPausedFor { get; init; } = new(120_000);

    /// <summary>While audio or alarms are off, a reminder this often; null: none.</summary>
    public Duration? ReminderEvery { get; init; } = new(300_000);
}
