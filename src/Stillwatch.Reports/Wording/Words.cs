using System.Globalization;
using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Reports.Wording;

/// <summary>Numbers and settings as people on a ward say them. A number and its unit never part at the end of a line.</summary>
internal static class Words
{
    private const char Nbsp = '\u00a0';

    /// <summary>"8 h 2 min", "45 min", "3 min 20 s", "45 s", "0.5 s": about three figures, which is all that such a number is worth to a reader.</summary>
    public static string Span(Duration span)
    {
        if (span < Duration.Zero) return "−" + Span(Duration.Zero - span);
        if (span.Milliseconds < 59_950) return $"{Number(span.Seconds, span.Milliseconds % 1000 == 0 ? 0 : 1)}{Nbsp}s";
        long seconds = (span.Milliseconds + 500) / 1000;
        if (seconds is >= 600 and < 3570) return $"{(seconds + 30) / 60}{Nbsp}min";
        if (seconds < 600) return seconds % 60 == 0 ? $"{seconds / 60}{Nbsp}min" : $"{seconds / 60}{Nbsp}min {seconds % 60}{Nbsp}s";
        long minutes = (seconds + 30) / 60;
        return minutes % 60 == 0 ? $"{minutes / 60}{Nbsp}h" : $"{minutes / 60}{Nbsp}h {minutes % 60}{Nbsp}min";
    }

    public static string Number(double value, int decimals) =>
        Math.Round(value, decimals, MidpointRounding.AwayFromZero).ToString("#,0." + new string('0', decimals), CultureInfo.InvariantCulture).TrimEnd('.');

    /// <summary>Signals per patient-day: one decimal below ten, whole above.</summary>
    public static string Rate(double value) => Number(value, value is > 0 and < 9.95 ? 1 : 0);

    /// <summary>A rate that is small but not nothing must not be printed as nothing.</summary>
    public static string RateWords(double value) => value is > 0 and < 0.05 ? "fewer than 0.1" : Rate(value);

    public static string PercentOf(double percent, int decimals = 1) => $"{Number(percent, percent == 0 ? 0 : decimals)}{Nbsp}%";

    /// <summary>A share of one as percent: small shares are not rounded to nothing.</summary>
    public static string Share(double share) => share is > 0 and < 0.0005 ? $"less than 0.1{Nbsp}%" : PercentOf(share * 100);

    public static string Saturation(Percent value) => $"{value.Value.ToString("0.##", CultureInfo.InvariantCulture)}{Nbsp}%";

    public static string Saturation(double? value) => value is { } v ? $"{v.ToString("0.#", CultureInfo.InvariantCulture)}{Nbsp}%" : "–";

    public static string Points(Percent value) => $"{value.Value.ToString("0.#", CultureInfo.InvariantCulture)}{Nbsp}{(value.Value == 1 ? "point" : "points")}";

    public static string Count(long count, string one, string? many = null) => $"{count.ToString("#,0", CultureInfo.InvariantCulture)}{Nbsp}{(count == 1 ? one : many ?? one + "s")}";

    public static string Of(PatientCategory category) => category switch
    {
        PatientCategory.Adult => "adult",
        PatientCategory.AdultHypercapnicRisk => "adult at risk of hypercapnic failure",
        PatientCategory.PaediatricInfant => "infant",
        PatientCategory.PaediatricChild => "child",
        PatientCategory.PaediatricAdolescent => "adolescent",
        PatientCategory.NeonatalOnOxygen => "neonate on oxygen",
        PatientCategory.NeonatalOnAir => "neonate on air",
        _ => "category not given",
    };

    public static string Of(PatientCategory category, bool isAssumed) => isAssumed ? $"{Of(category)}, assumed" : Of(category);

    public static string Of(AlarmCondition condition) => condition switch
    {
        AlarmCondition.SpO2Low => "SpO2 low",
        AlarmCondition.SpO2High => "SpO2 high",
        AlarmCondition.PulseRateLow => "Pulse rate low",
        AlarmCondition.PulseRateHigh => "Pulse rate high",
        AlarmCondition.NoReading => "No reading",
        AlarmCondition.SignalInadequate => "Signal inadequate",
        AlarmCondition.LowPerfusion => "Low perfusion",
        AlarmCondition.Interference => "Interference",
        AlarmCondition.SensorOff => "Sensor off",
        AlarmCondition.SensorDisconnected => "Sensor disconnected",
        AlarmCondition.StaleFeed => "Stale feed",
        AlarmCondition.SourceOnBattery => "Source on battery",
        AlarmCondition.SourceBatteryLow => "Source battery low",
        AlarmCondition.ImplausibleValue => "Implausible value",
        _ => condition.ToString(),
    };

    public static string Of(CatchVerdict verdict) => verdict switch
    {
        CatchVerdict.InTime => "in time",
        CatchVerdict.Late => "late",
        _ => "missed",
    };

    /// <summary>"at or below 85 % for 60 s or more".</summary>
    public static string Of(MustCatchLine line) =>
        $"{(line.Inclusive ? "at or below" : "below")} {Saturation(line.Level)} for {Span(line.AtLeast)} or more";

    public static string Averaging(Duration averaging) => averaging <= Duration.Zero ? "none" : Span(averaging);
}
