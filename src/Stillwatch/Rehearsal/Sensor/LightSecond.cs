namespace Stillwatch.Rehearsal.Sensor;

/// <summary>What truly happens to the light at one sample.</summary>
[Flags]
public enum Disturbances
{
    None = 0,
    Motion = 1,
    Flicker = 2,
    Ambient = 4,
    Slip = 8,
    Off = 16,
    FeedLost = 32,

    /// <summary>Red or infrared is at an end of the converter.</summary>
    Clipped = 64,
}

/// <summary>Where the light of one second and its truth go: spans of at least a second's samples, and lists to which true times are added.</summary>
public readonly ref struct LightSecond
{
    /// <summary>Counts; <see cref="Signals.CountColumn.Missing"/> while the feed is lost.</summary>
    public required Span<int> Red { get; init; }

    /// <summary>Counts; <see cref="Signals.CountColumn.Missing"/> while the feed is lost.</summary>
    public required Span<int> Infrared { get; init; }

    /// <summary>True saturation of the arterial blood under the sensor, feed or not.</summary>
    public required Span<double> SaturationPercent { get; init; }

    public required Span<Disturbances> Disturbances { get; init; }

    /// <summary>
    /// Seconds from the first sample at which blood volume rises fastest (of −ln of infrared light, before noise, breathing and movement), of the beats that begin
    /// in this second; the last may lie in the next. Beats of the heart, whether the sensor sees them or not.
    /// </summary>
    public required IList<double> Beats { get; init; }

    /// <summary>Seconds from the first sample at which a breath is begun, moved air or not; none without effort.</summary>
    public required IList<double> Breaths { get; init; }
}
