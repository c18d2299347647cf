using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Reports.Model;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Pages;

/// <summary>Numbers and settings in words, the same on every page.</summary>
internal static class Say
{
    public const string Nothing = "–";

    public static string Number(double? value, string format = "0.##") => value is { } v && double.IsFinite(v) ? v.ToString(format) : Nothing;

    public static string Count(long count, string one, string many) => count == 1 ? $"1 {one}" : $"{count:#,0} {many}";

    public static string Length(Duration length)
    {
        long seconds = (long)Math.Round(length.Seconds);
        if (seconds < 120) return $"{length.Seconds:0.#} s";
        if (seconds < 3600) return $"{seconds / 60} min {seconds % 60:00} s";
        return $"{seconds / 3600} h {seconds / 60 % 60:00} min";
    }

    public static string Seconds(Duration? length) => length is { } l ? $"{l.Seconds:0.#} s" : Nothing;

    public static string Share(double share) => $"{share * 100:0.#} %";

    /// <summary>A measured value whatever its scale: two decimals, or three figures where it is small (microvolts given in volts).</summary>
    public static string Measure(double? value) => value is not { } v || !double.IsFinite(v) ? Nothing
        : v != 0 && Math.Abs(v) < 0.1 ? v.ToString("G3")
        : v.ToString("0.##");

    public static string Rate(double? hertz, Duration period) => hertz is not { } rate ? Nothing
        : rate >= 1 ? $"{rate:0.###} a second"
        : period.Milliseconds == 60_000 ? "one a minute"
        : $"one in {period.Seconds:0.###} s";

    public static string Kind(ChannelKind kind) => kind switch
    {
        ChannelKind.SpO2 => "SpO2",
        ChannelKind.PulseRate => "pulse rate",
        ChannelKind.PerfusionIndex => "perfusion index",
        ChannelKind.SignalQuality => "signal quality",
        ChannelKind.SourceValid => "source's own validity",
        ChannelKind.InhaledOxygen => "inhaled oxygen",
        ChannelKind.HeartRate => "heart rate",
        ChannelKind.Pleth => "pleth",
        ChannelKind.RedLight => "red light",
        ChannelKind.InfraredLight => "infrared light",
        _ => "not used",
    };

    public static string Condition(AlarmCondition condition) => condition.InWords();

    public static string Low(LimitSettings<Percent> low)
    {
        string text = $"below {low.Limit.Value:0.##} %";
        // An area threshold alone holds a signal back: "for more than 0 s" would say nothing.
        if (low.Delay > Duration.Zero || low.AreaThreshold == Area.Zero) text += $" for more than {low.Delay.Seconds:0.###} s";
        if (low.AreaThreshold > Area.Zero) text += $", once its area passes {low.AreaThreshold.Value:0.##} %·s";
        if (low.ClearMargin.Micro > 0) text += $", until {low.Limit.Value + low.ClearMargin.Value:0.##} %";
        return text;
    }

    public static string Backstop(BackstopSettings? backstop) =>
        backstop is null ? "no backstop" : $"backstop below {backstop.Limit.Value:0.##} % for more than {backstop.Delay.Seconds:0.###} s";

    public static string Candidate(CandidateSettings settings) =>
        $"{Low(settings.SpO2Low)}; {Backstop(settings.Backstop)}; {Averaging(settings.Averaging)}";

    public static string Settings(AlarmSettings settings)
    {
        var parts = new List<string>();
        if (settings.SpO2Low is { } low) parts.Add("SpO2 " + Low(low));
        if (settings.Backstop is { } backstop) parts.Add(Backstop(backstop));
        if (settings.SpO2High is { } high) parts.Add($"SpO2 above {high.Limit.Value:0.##} % for more than {high.Delay.Seconds:0.###} s");
        if (settings.PulseRateLow is { } slow) parts.Add($"pulse below {slow.Limit.Value:0.##} /min for more than {slow.Delay.Seconds:0.###} s");
        if (settings.PulseRateHigh is { } fast) parts.Add($"pulse above {fast.Limit.Value:0.##} /min for more than {fast.Delay.Seconds:0.###} s");
        parts.Add(Averaging(settings.SpO2Conditioning.Averaging));
        return string.Join("; ", parts);
    }

    public static string Averaging(Duration averaging) => averaging > Duration.Zero ? $"averaged over {averaging.Seconds:0.###} s" : "not averaged further";

    public static string Verdict(CatchVerdict verdict) => verdict switch
    {
        CatchVerdict.InTime => "in time",
        CatchVerdict.Late => "LATE",
        _ => "MISSED",
    };

    public static string Answer(CatchAnswer answer) =>
        Verdict(answer.Verdict) + (answer.TimeToSignal is { } time ? $", after {Seconds(time)}" : string.Empty);

    public static string Conditioning(ConditioningSettings settings, SourceAveraging source, Duration period) =>
        $"Averaging: the source's own {source}, ours {(settings.Averaging > Duration.Zero ? $"{settings.Averaging.Seconds:0.###} s" : "none")}. "
        + $"Validity: {(settings.Validity == ValidityRule.Standard ? "standard (R2)" : "none, every number counts")}. "
        + $"A value holds at most {settings.HoldAfter(period).Seconds:0.###} s (R5). "
        + $"Compared {(settings.Rounding == Rounding.Display ? "as displayed, in whole numbers" : "unrounded")} (R6).";

    /// <summary>What a group has in common, without the definition that its page prints anyway.</summary>
    /// <param name="key">The group.</param>
    /// <param name="isAssumed">Whether nobody named its category.</param>
    public static string Group(GroupKey key, bool isAssumed)
    {
        string category = key.Category.InWords();
        return $"{char.ToUpperInvariant(category[0])}{category[1..]}{(isAssumed ? " (assumed)" : "")}: source averaging {(key.SourceAveraging is { } s ? $"{s}" : "not known")}, {Oxygen(key.Oxygen)}, a value every {key.Period}";
    }

    public static string Oxygen(OxygenStatus oxygen) => oxygen switch
    {
        OxygenStatus.OnAir => "on air",
        OxygenStatus.OnOxygen => "on oxygen",
        _ => "oxygen not known",
    };

    public static string Definition(MustCatchDefinition definition) =>
        $"{string.Join(" or ", definition.Lines)} ({definition.Name}; {definition.Source})";
}
