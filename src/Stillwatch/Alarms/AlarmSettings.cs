using Stillwatch.Conditioning;
using Stillwatch.Quantities;

namespace Stillwatch.Alarms;

/// <summary>A settings set: all that decides when a signal starts and stops. A null limit is switched off.</summary>
public sealed record AlarmSettings
{
    public ConditioningSettings SpO2Conditioning { get; init; } = ConditioningSettings.Default;

    public ConditioningSettings PulseConditioning { get; init; } = ConditioningSettings.Default;

    public LimitSettings<Percent>? SpO2Low { get; init; }

    public BackstopSettings? Backstop { get; init; }

    public LimitSettings<Percent>? SpO2High { get; init; }

    public LimitSettings<BeatsPerMinute>? PulseRateLow { get; init; }

    public LimitSettings<BeatsPerMinute>? PulseRateHigh { get; init; }

    public TechnicalSettings Technical { get; init; } = TechnicalSettings.Default;

    public PrioritySettings Priorities { get; init; } = PrioritySettings.Default;

    public AnnunciationSettings Annunciation { get; init; } = AnnunciationSettings.Default;
}
