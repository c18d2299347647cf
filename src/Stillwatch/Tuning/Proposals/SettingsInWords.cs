using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Tuning.Proposals;

/// <summary>Settings and numbers as a reader meets them in reasons and caveats.</summary>
public static class SettingsInWords
{
    public static string InWords(this CandidateSettings settings)
    {
        var low = settings.SpO2Low;
        string held = low.AreaThreshold > Area.Zero
            ? low.Delay > Duration.Zero ? $"delay {low.Delay} and area threshold {low.AreaThreshold}" : $"area threshold {low.AreaThreshold}"
            : $"delay {low.Delay}";
        string margin = low.ClearMargin.Micro > 0 ? $", clear margin {low.ClearMargin}" : "";
        string averaging = settings.Averaging > Duration.Zero ? $"averaging {settings.Averaging}" : "no averaging of ours";
        string backstop = settings.Backstop is { } b ? $"backstop {b.Limit} after {b.Delay}" : "no backstop";
        return $"low limit {low.Limit}, {held}{margin}, {averaging}, {backstop}";
    }

    /// <summary>The settings for low SpO2 out of a whole settings set; null where the low limit is off.</summary>
    public static CandidateSettings? ForSpO2Low(this AlarmSettings settings) =>
        settings.SpO2Low is { } low ? new CandidateSettings(low, settings.Backstop, settings.SpO2Conditioning.Averaging) : null;

    /// <summary>Whether the engine could run under these settings at all: limit above the backstop, limit and margin at most 100 %.</summary>
    internal static bool CanRun(this CandidateSettings settings) =>
        AlarmSettingsCheck.Problems(new AlarmSettings { SpO2Low = settings.SpO2Low, Backstop = settings.Backstop }).Count == 0;

    internal static string Share(double share) => $"{share * 100:0.0} %";

    internal static string Count(long count, string one, string? many = null) => $"{count} {(count == 1 ? one : many ?? one + "s")}";
}
