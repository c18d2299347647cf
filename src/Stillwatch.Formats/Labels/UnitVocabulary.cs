using Stillwatch.Signals;

namespace Stillwatch.Formats.Labels;

/// <summary>What the unit of a signal says about what it can be. Spellings are common practice, no source.</summary>
internal static class UnitVocabulary
{
    private static readonly HashSet<string> Percent = new(StringComparer.OrdinalIgnoreCase) { "%", "pct", "percent", "proc", "vol%", "%sat", "% sat" };
    private static readonly HashSet<string> PerMinute = new(StringComparer.OrdinalIgnoreCase) { "bpm", "/min", "1/min", "min-1", "pm", "p/m", "p/min", "beats/min", "beats/m", "b/m", "b/min" };
    private static readonly HashSet<string> Volts = new(StringComparer.OrdinalIgnoreCase) { "V", "mV", "uV", "µV", "μV", "nV" };
    private static readonly HashSet<string> None = new(StringComparer.OrdinalIgnoreCase) { "", "1", "NU", "nd", "na", "n/a", "-", "none", "a.u.", "au", "digit", "adu" };

    public static bool IsPercent(string unit) => Percent.Contains(unit.Trim());

    public static bool IsPerMinute(string unit) => PerMinute.Contains(unit.Trim());

    /// <summary>The unit that a channel of a file has once its kind is known; a kind that rules judge has one only.</summary>
    public static string Settled(ChannelKind kind, LabelName name, string unit) => kind switch
    {
        ChannelKind.SpO2 or ChannelKind.InhaledOxygen or ChannelKind.PerfusionIndex => "%",
        ChannelKind.PulseRate or ChannelKind.HeartRate => "/min",
        ChannelKind.SourceValid => "1",
        _ => unit.Length > 0 ? unit : LabelVocabulary.SaysPercent(name) ? "%" : "",
    };

    /// <summary>Whether a unit rules out what the label says; a unit that is not known rules out nothing.</summary>
    public static bool Contradicts(ChannelKind kind, string unit)
    {
        string trimmed = unit.Trim();
        if (None.Contains(trimmed)) return false;
        return kind switch
        {
            ChannelKind.SpO2 or ChannelKind.InhaledOxygen or ChannelKind.PerfusionIndex => Volts.Contains(trimmed) || IsPerMinute(trimmed),
            ChannelKind.PulseRate or ChannelKind.HeartRate => Volts.Contains(trimmed) || IsPercent(trimmed),
            _ => false,
        };
    }
}
