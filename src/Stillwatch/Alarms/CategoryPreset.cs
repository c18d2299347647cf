using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Alarms;

/// <summary>A number and where it comes from: a publication, "from memory", or "unit policy, no source".</summary>
public sealed record Sourced<T>(T Value, string Source);

/// <summary>A range from low to high, both included.</summary>
public readonly record struct PercentRange(Percent Low, Percent High)
{
    public override string ToString() => $"{Low.Value:0.##}–{High.Value:0.##} %";
}

/// <summary>
/// Starting settings and search bounds for a patient category. A start for a person to think from: local policy and the
/// prescription come first, and every number says whose it is.
/// </summary>
public sealed record CategoryPreset
{
    public required PatientCategory Category { get; init; }

    /// <summary>The name used in commands and files, e.g. "adult" or "paediatric:4y".</summary>
    public required string Name { get; init; }

    public required string Describes { get; init; }

    public required Sourced<Percent> SpO2LowLimit { get; init; }

    public required Sourced<Duration> SpO2LowDelay { get; init; }

    public required Sourced<Percent> BackstopLimit { get; init; }

    public required Sourced<Duration> BackstopDelay { get; init; }

    /// <summary>Null where too much oxygen is not alarmed on.</summary>
    public Sourced<Percent>? SpO2HighLimit { get; init; }

    public required Sourced<BeatsPerMinute> PulseRateLowLimit { get; init; }

    public required Sourced<BeatsPerMinute> PulseRateHighLimit { get; init; }

    /// <summary>The usual target range of saturation; null where there is none.</summary>
    public Sourced<PercentRange>? Target { get; init; }

    /// <summary>R14.5: no proposal has a lower low limit than this.</summary>
    public required Sourced<Percent> LowestProposedLimit { get; init; }

    /// <summary>R14.5: no proposal has a longer delay than this.</summary>
    public required Sourced<Duration> LongestProposedDelay { get; init; }

    /// <summary>The preset as a settings set, without averaging of our own.</summary>
    public AlarmSettings ToSettings() => new()
    {
        SpO2Low = new LimitSettings<Percent>(SpO2LowLimit.Value, SpO2LowDelay.Value, Area.Zero, Percent.Of(0)),
        Backstop = new BackstopSettings(BackstopLimit.Value, BackstopDelay.Value),
        SpO2High = SpO2HighLimit is { } high ? new LimitSettings<Percent>(high.Value, SpO2LowDelay.Value, Area.Zero, Percent.Of(0)) : null,
        PulseRateLow = new LimitSettings<BeatsPerMinute>(PulseRateLowLimit.Value, SpO2LowDelay.Value, Area.Zero, BeatsPerMinute.Of(0)),
        PulseRateHigh = new LimitSettings<BeatsPerMinute>(PulseRateHighLimit.Value, SpO2LowDelay.Value, Area.Zero, BeatsPerMinute.Of(0)),
    };
}
