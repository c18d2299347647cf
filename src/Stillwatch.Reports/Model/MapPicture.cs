using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;

namespace Stillwatch.Reports.Model;

/// <summary>What the second axis of a settings map is.</summary>
public enum MapThreshold
{
    /// <summary>Alarm condition delay in seconds.</summary>
    Delay,

    /// <summary>Area threshold in %·s.</summary>
    Area,
}

/// <summary>One plane of a settings map with its axes and denominators, ready to be drawn.</summary>
public sealed record MapPicture
{
    /// <summary>Limits in %, rising: the first index of <see cref="Plane"/>.</summary>
    public required IReadOnlyList<Percent> Limits { get; init; }

    public required MapThreshold Threshold { get; init; }

    /// <summary>Delays in seconds or areas in %·s, rising: the second index of <see cref="Plane"/>.</summary>
    public required IReadOnlyList<double> Thresholds { get; init; }

    public required MapPlane Plane { get; init; }

    /// <summary>Valid time behind the counts; the denominator of signals per patient-day.</summary>
    public required Duration Valid { get; init; }

    public required int MustCatchEvents { get; init; }

    public ConditioningSettings Conditioning { get; init; } = ConditioningSettings.Default;

    public Percent ClearMargin { get; init; }

    /// <summary>The backstop the map was drawn with; null: off.</summary>
    public BackstopSettings? Backstop { get; init; }

    /// <summary>Where proposals may come from (rule R14.5), drawn as a frame; null: not drawn.</summary>
    public SearchFrame? SearchedWithin { get; init; }

    /// <summary>Limits × delays; the area threshold is zero.</summary>
    public static MapPicture ByDelay(SettingsMap map) =>
        Of(map, MapThreshold.Delay, [.. map.Request.Grid.Delays.Select(d => d.Seconds)], map.ByDelay);

    /// <summary>Limits × area thresholds; the delay is zero.</summary>
    public static MapPicture ByArea(SettingsMap map) =>
        Of(map, MapThreshold.Area, [.. map.Request.Grid.Areas.Select(a => (double)a.Value)], map.ByArea);

    /// <summary>Below this a rate would be scaled up from little: one signal in 18 minutes is not 79 a day. Unit policy, no source.</summary>
    public static Duration ShortestForRates { get; } = Duration.FromHours(24);

    /// <summary>Whether the map shows counts instead of rates.</summary>
    public bool CountsInAll => Valid < ShortestForRates;

    /// <summary>What <see cref="Load"/> is, for titles and legends.</summary>
    internal string Counted => CountsInAll ? "signals in all" : "signals per patient-day";

    /// <summary>What is drawn: signals in all where the recordings are short, signals per patient-day otherwise; null as <see cref="SignalsPerDay"/>.</summary>
    public double? Load(int limitIndex, int thresholdIndex) =>
        SignalsPerDay(limitIndex, thresholdIndex) is { } rate ? CountsInAll ? Plane.Signals[limitIndex, thresholdIndex] : rate : null;

    /// <summary>A load as it is printed: a count has no decimals.</summary>
    internal string InNumbers(double load) => CountsInAll ? Words.Number(load, 0) : Words.Rate(load);

    /// <summary>Signals per 24 h of valid time in one cell; null for a null cell or without valid time.</summary>
    public double? SignalsPerDay(int limitIndex, int thresholdIndex) =>
        Plane.IsNull(limitIndex, thresholdIndex) || Valid <= Duration.Zero
            ? null
            : Plane.Signals[limitIndex, thresholdIndex] * 24 / Valid.Hours;

    /// <summary>Share of the valid time with a signal on, 0–1; null for a null cell or without valid time.</summary>
    /// <remarks>A signal that never ends is one start a day: without this, the loudest settings would look quiet.</remarks>
    public double? ShareOfTimeOn(int limitIndex, int thresholdIndex) =>
        Plane.IsNull(limitIndex, thresholdIndex) || Valid <= Duration.Zero
            ? null
            : Plane.ActiveMilliseconds[limitIndex, thresholdIndex] / (double)Valid.Milliseconds;

    private static MapPicture Of(SettingsMap map, MapThreshold threshold, IReadOnlyList<double> thresholds, MapPlane plane) => new()
    {
        Limits = [.. map.Request.Grid.LimitsMicro.Select(Percent.FromMicro)],
        Threshold = threshold,
        Thresholds = thresholds,
        Plane = plane,
        Valid = map.Valid,
        MustCatchEvents = map.MustCatchEvents,
        Conditioning = map.Request.Conditioning,
        ClearMargin = Percent.FromMicro(map.Request.ClearMarginMicro),
        Backstop = map.Request.Backstop,
    };
}

/// <summary>The part of a plane that is searched for proposals.</summary>
public sealed record SearchFrame(Percent LowestLimit, Percent HighestLimit, double LowestThreshold, double HighestThreshold);
