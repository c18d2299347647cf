using System.Globalization;
using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Reports.Model;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Wording;

/// <summary>Settings in words. A delay must be exceeded and a limit passed, so it is "below" and "more than".</summary>
internal static class SettingsWords
{
    private const int NameAtMost = 40;

    /// <summary>"present settings", or the name of those that were tried in their place.</summary>
    public static string Of(RecordingSection section) => Of(section.ReplayedName);

    public static string Of(string? replayedName) => replayedName is null ? "present settings" : $"replayed settings {Quoted(replayedName)}";

    /// <summary>"present low limit", "low limit of the replayed settings “Night idea”".</summary>
    public static string LowLimitOf(string? replayedName) => replayedName is null ? "present low limit" : $"low limit of the {Of(replayedName)}";

    /// <summary>A name out of a file: marked as one, and short enough for a figure's label.</summary>
    public static string Quoted(string name) => $"“{(name.Length <= NameAtMost ? name : name[..(NameAtMost - 1)] + "…")}”";

    /// <summary>"90 %, 10 s": as short as a figure's label must be.</summary>
    public static string Short(LimitSettings<Percent> low)
    {
        string limit = Words.Saturation(low.Limit);
        if (low.AreaThreshold <= Area.Zero) return $"{limit}, {Words.Span(low.Delay)}";
        return low.Delay > Duration.Zero ? $"{limit}, {Words.Span(low.Delay)}, {AreaText(low.AreaThreshold)}" : $"{limit}, {AreaText(low.AreaThreshold)}";
    }

    /// <summary>"SpO2 below 90 % for more than 10 s", "SpO2 below 90 %, depth × time over 200 %·s".</summary>
    public static string Low(LimitSettings<Percent> low)
    {
        string text = $"SpO2 below {Words.Saturation(low.Limit)}";
        if (low.Delay > Duration.Zero) text += $" for more than {Words.Span(low.Delay)}";
        if (low.AreaThreshold > Area.Zero) return $"{text}, depth × time over {AreaText(low.AreaThreshold)}";
        return low.Delay > Duration.Zero ? text : $"{text}, at once";
    }

    /// <summary>Everything a candidate varies, in one sentence without its full stop.</summary>
    public static string Full(CandidateSettings settings)
    {
        string text = Low(settings.SpO2Low);
        if (settings.SpO2Low.AreaThreshold > Area.Zero) text += " (area threshold)";
        text += settings.SpO2Low.ClearMargin.Micro > 0
            ? $", ending at {Words.Saturation(Percent.FromMicro(settings.SpO2Low.Limit.Micro + settings.SpO2Low.ClearMargin.Micro))} or above"
            : "";
        text += settings.Backstop is { } backstop ? $"; {Backstop(backstop)}" : "; no backstop";
        text += settings.Averaging > Duration.Zero ? $"; averaged over {Words.Span(settings.Averaging)}" : "; no averaging of ours";
        return text;
    }

    public static string Backstop(BackstopSettings backstop) =>
        $"backstop below {Words.Saturation(backstop.Limit)}" + (backstop.Delay > Duration.Zero ? $" for more than {Words.Span(backstop.Delay)}" : ", at once");

    public static string AreaText(Area area) => $"{area.Value.ToString("0.#", CultureInfo.InvariantCulture)}\u00a0%·s";

    /// <summary>All limits of a settings set, one line each.</summary>
    public static IReadOnlyList<string> Lines(AlarmSettings settings)
    {
        var lines = new List<string>();
        if (settings.SpO2Low is { } low) lines.Add(Low(low) + Margin(low.ClearMargin.Micro, "points", "SpO2"));
        if (settings.Backstop is { } backstop) lines.Add(Backstop(backstop));
        if (settings.SpO2High is { } high) lines.Add($"SpO2 above {Words.Saturation(high.Limit)} for more than {Words.Span(high.Delay)}");
        if (settings.PulseRateLow is { } slow) lines.Add($"pulse rate below {Beats(slow.Limit)} for more than {Words.Span(slow.Delay)}");
        if (settings.PulseRateHigh is { } fast) lines.Add($"pulse rate above {Beats(fast.Limit)} for more than {Words.Span(fast.Delay)}");
        if (lines.Count == 0) lines.Add("no limit is set");
        return lines;
    }

    private static string Beats(BeatsPerMinute rate) => $"{rate.Value.ToString("0.#", CultureInfo.InvariantCulture)}\u00a0/min";

    private static string Margin(int micro, string unit, string what) =>
        micro > 0 ? $" (the signal ends once {what} is {(micro / 1_000_000m).ToString("0.#", CultureInfo.InvariantCulture)} {unit} above the limit or more)" : "";
}
