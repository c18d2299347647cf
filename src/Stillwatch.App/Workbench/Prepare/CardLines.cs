using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Reports.Model;
using Stillwatch.Time;

namespace Stillwatch.App.Workbench.Prepare;

/// <summary>A number of a settings set, as it stands on a card and in the preparation: what, how much, why.</summary>
/// <param name="Label">"SpO2 low limit".</param>
/// <param name="Value">With its unit; "off" where the alarm is switched off.</param>
/// <param name="Source">Where the category's own number comes from; null: this is not the category's own number.</param>
public sealed record SettingsNumber(string Label, string Value, string? Source);

/// <summary>A settings set number by number.</summary>
public static class CardLines
{
    private const string NoneOfOurs = "none";

    /// <summary>Every number in a fixed order, with its source where it is the preset's own.</summary>
    public static IReadOnlyList<SettingsNumber> Of(AlarmSettings settings, CategoryPreset preset)
    {
        var own = Numbers(preset.ToSettings());
        string?[] sources =
        [
            preset.SpO2LowLimit.Source, preset.SpO2LowDelay.Source, "the preset has none", "the preset has none",
            preset.BackstopLimit.Source, preset.BackstopDelay.Source,
            preset.SpO2HighLimit?.Source ?? "the preset does not alarm on too much oxygen",
            preset.PulseRateLowLimit.Source, preset.PulseRateHighLimit.Source, "the preset has none: the monitor's own averaging stands",
        ];
        return [.. Numbers(settings).Select((n, i) => new SettingsNumber(n.Label, n.Value, n.Value == own[i].Value ? sources[i] : null))];
    }

    /// <summary>The lines of a card: what differs from the unit's default says so.</summary>
    /// <param name="settings">What is on the card.</param>
    /// <param name="preset">The category's starting settings.</param>
    /// <param name="unitDefault">The unit's default.</param>
    /// <param name="reason">Why a number that is not the category's own was chosen.</param>
    public static IReadOnlyList<CardLine> Card(AlarmSettings settings, CategoryPreset preset, AlarmSettings unitDefault, Func<SettingsNumber, string> reason)
    {
        var usual = Numbers(unitDefault);
        return
        [
            .. Of(settings, preset).Select((n, i) => (Line: n, Usual: usual[i].Value)).Where(x => x.Line.Value is not ("off" or NoneOfOurs) || x.Usual != x.Line.Value)
                .Select(x => new CardLine(x.Line.Label, x.Line.Value, x.Line.Source ?? reason(x.Line), x.Usual == x.Line.Value ? null : x.Usual)),
        ];
    }

    private static (string Label, string Value)[] Numbers(AlarmSettings s) =>
    [
        ("SpO2 low limit", s.SpO2Low is { } low ? Saturation(low.Limit) : "off"),
        ("SpO2 low delay", s.SpO2Low is { } delayed ? Seconds(delayed.Delay) : "off"),
        ("Area threshold", s.SpO2Low is { AreaThreshold.Value: > 0 } area ? $"{area.AreaThreshold.Value:0.##} %·s" : NoneOfOurs),
        ("Clear margin", s.SpO2Low is { ClearMargin.Micro: > 0 } margin ? $"{margin.ClearMargin.Value:0.##} points" : NoneOfOurs),
        ("Backstop limit", s.Backstop is { } backstop ? Saturation(backstop.Limit) : "off"),
        ("Backstop delay", s.Backstop is { } prompt ? Seconds(prompt.Delay) : "off"),
        ("SpO2 high limit", s.SpO2High is { } high ? Saturation(high.Limit) : "off"),
        ("Pulse rate low limit", s.PulseRateLow is { } slow ? Beats(slow.Limit) : "off"),
        ("Pulse rate high limit", s.PulseRateHigh is { } fast ? Beats(fast.Limit) : "off"),
        ("Our averaging", s.SpO2Conditioning.Averaging > Duration.Zero ? Seconds(s.SpO2Conditioning.Averaging) : NoneOfOurs),
    ];

    private static string Saturation(Percent value) => $"{value.Value:0.##} %";

    private static string Seconds(Duration value) => $"{value.Seconds:0.###} s";

    private static string Beats(BeatsPerMinute value) => $"{value.Value:0.##} /min";
}
