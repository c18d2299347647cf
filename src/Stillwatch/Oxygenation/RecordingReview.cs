using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Oxygenation;

/// <summary>Looking back over one recording's SpO2: events, exposure, hours.</summary>
public sealed record RecordingReview
{
    /// <summary>The definitions behind every count, in words.</summary>
    public required string Definition { get; init; }

    /// <summary>First row to end, connected.</summary>
    public required Duration Monitored { get; init; }

    public required Duration Valid { get; init; }

    /// <summary>Valid over monitored time, 0–1.</summary>
    public required double Coverage { get; init; }

    public required Exposure Exposure { get; init; }

    /// <summary>Falls of at least 3 %; null where the series is too sparse for the definition (over 5 s between samples).</summary>
    public required IReadOnlyList<DesaturationEvent>? Events { get; init; }

    public required IReadOnlyList<HourSummary> Hours { get; init; }

    /// <summary>Clusters of dips in time order; null where events are not applicable.</summary>
    public IReadOnlyList<DipCluster>? Clusters { get; init; }

    /// <summary>The patient's own start: the level that the hours are compared with; null where too little is valid.</summary>
    public OwnBaseline? OwnBaseline { get; init; }

    /// <summary>What does not apply to this series and why ("one sample a minute: desaturation events are not defined").</summary>
    public required IReadOnlyList<string> NotApplicable { get; init; }
}

/// <summary>Time spent below a level.</summary>
public sealed record TimeBelow(Percent Level, Duration Time, double PercentOfValid, double MinutesPerHour);

public sealed record Exposure
{
    /// <summary>Below 90, 88, 85, 80, strictly.</summary>
    public required IReadOnlyList<TimeBelow> Below { get; init; }

    /// <summary>Time-weighted, over valid time; null without any.</summary>
    public required double? Mean { get; init; }

    public required double? Median { get; init; }

    public required double? Percentile1 { get; init; }

    public required double? Percentile5 { get; init; }

    public required double? Minimum { get; init; }

    /// <summary>Events of ≥ 3 % per valid hour; null where not applicable.</summary>
    public required double? Odi3 { get; init; }

    public required double? Odi4 { get; init; }

    /// <summary>Mean absolute difference of successive 12-s means, in percentage points; null where not applicable. See <see cref="Oxygenation.DeltaIndex"/>.</summary>
    public double? DeltaIndex { get; init; }

    /// <summary>Area below 90 %, in %·s per valid hour.</summary>
    public required double AreaBelow90PerHour { get; init; }

    /// <summary>Time at each whole percent, 0–100 (index = percent).</summary>
    public required IReadOnlyList<Duration> Histogram { get; init; }

    /// <summary>Below, within, above the target; null where the category has none.</summary>
    public required TargetTime? Target { get; init; }
}

public sealed record TargetTime(Percent Low, Percent High, Duration Below, Duration Within, Duration Above);

/// <summary>How a desaturation event ended.</summary>
public enum DesaturationEnding
{
    /// <summary>The value rose by two thirds of the fall and stayed there; the end is the top of that rise.</summary>
    Recovered,

    /// <summary>The patient had settled lower, and fell again from there: the end is the start of that next event.</summary>
    NextFall,

    /// <summary>The value was lost and came back recovered, or too late, or never: the end is the loss.</summary>
    Lost,

    /// <summary>With the recording.</summary>
    RecordingEnd,
}

/// <summary>
/// A desaturation event: a fall of at least 3 % from the mean of the preceding 120 s that lasts at least 10 s. Precisely:
/// <see cref="DesaturationFinder"/>.
/// </summary>
public sealed record DesaturationEvent
{
    public required SampleTime Start { get; init; }

    public required SampleTime End { get; init; }

    public required SampleTime NadirTime { get; init; }

    public required Percent Nadir { get; init; }

    /// <summary>Mean of the valid 120 s before the fall.</summary>
    public required Percent Baseline { get; init; }

    /// <summary>Baseline minus nadir.</summary>
    public required Percent Depth { get; init; }

    /// <summary>Area below the baseline.</summary>
    public required Area Area { get; init; }

    /// <summary>From the nadir to the end; null where the end is a loss or the recording's.</summary>
    public required Duration? Recovery { get; init; }

    /// <summary>Highest pulse rate from start to 30 s after the end minus the mean of the 120 s before, /min; null without pulse rate.</summary>
    public required double? PulseRateRise { get; init; }

    /// <summary>Whether it counts for the 4 % rule too.</summary>
    public required bool IsFallOf4 { get; init; }

    public DesaturationEnding Ending { get; init; }

    /// <summary>From start to end, lost time included.</summary>
    public Duration Length => End - Start;
}

/// <summary>One hour (the last may be shorter) of a recording, counted from its first row.</summary>
public sealed record HourSummary
{
    public required int Number { get; init; }

    public required TimeSlice Span { get; init; }

    public required Duration Valid { get; init; }

    public required IReadOnlyList<TimeBelow> Below { get; init; }

    /// <summary>Desaturation events that start in this hour; null where not applicable.</summary>
    public required int? Events { get; init; }

    /// <summary>Clusters of dips that start in this hour; null where not applicable.</summary>
    public required int? Clusters { get; init; }

    public required double? Median { get; init; }

    /// <summary>Median minus the patient's own baseline, in percentage points.</summary>
    public required double? ChangeFromBaseline { get; init; }

    /// <summary>The hour in plain words.</summary>
    public required string Words { get; init; }
}
