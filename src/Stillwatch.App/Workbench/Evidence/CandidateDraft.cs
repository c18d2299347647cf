using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Workbench.Evidence;

/// <summary>A candidate as its controls stand: numbers in percent, seconds and percent-seconds, inside what a control can be set to.</summary>
public sealed record CandidateDraft
{
    public decimal Limit { get; init; }

    public decimal DelaySeconds { get; init; }

    public decimal Area { get; init; }

    public decimal AveragingSeconds { get; init; }

    public decimal ClearMargin { get; init; }

    public bool HasBackstop { get; init; }

    /// <summary>Kept while the backstop is off, so that switching it on again finds it as it was.</summary>
    public decimal BackstopLimit { get; init; } = 80;

    public decimal BackstopDelaySeconds { get; init; }

    public static CandidateDraft Of(CandidateSettings settings) => new()
    {
        Limit = settings.SpO2Low.Limit.Value,
        DelaySeconds = settings.SpO2Low.Delay.Milliseconds / 1000m,
        Area = settings.SpO2Low.AreaThreshold.Value,
        AveragingSeconds = settings.Averaging.Milliseconds / 1000m,
        ClearMargin = settings.SpO2Low.ClearMargin.Value,
        HasBackstop = settings.Backstop is not null,
        BackstopLimit = settings.Backstop?.Limit.Value ?? 80,
        BackstopDelaySeconds = (settings.Backstop?.Delay.Milliseconds ?? 0) / 1000m,
    };

    public CandidateSettings ToSettings() => new(
        new LimitSettings<Percent>(Percent.Of(Limit), Duration.FromSeconds(DelaySeconds), Quantities.Area.Of(Area), Percent.Of(ClearMargin)),
        HasBackstop ? new BackstopSettings(Percent.Of(BackstopLimit), Duration.FromSeconds(BackstopDelaySeconds)) : null,
        Duration.FromSeconds(AveragingSeconds));
}
