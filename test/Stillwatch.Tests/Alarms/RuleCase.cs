using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Time;

namespace Stillwatch.Tests.Alarms;

/// <summary>
/// One line of a rule table: id | what it shows | series | limit | delay s | area | margin | averaging s | gap tolerance s |
/// validity | rounding | signals. The limit: "90" SpO2 low, ">95" SpO2 high, "90 backstop 80/5", "pulse 50", "pulse >120".
/// </summary>
internal sealed class RuleCase
{
    private readonly string series;
    private readonly string limit;
    private readonly Duration delay;
    private readonly Area area;
    private readonly decimal margin;
    private readonly ConditioningSettings conditioning;

    public RuleCase(string[] fields)
    {
        if (fields.Length != 12) throw new FormatException($"Rule case '{fields[0]}': found {fields.Length} fields, expected 12.");
        Id = fields[0];
        Shows = fields[1];
        series = fields[2];
        limit = fields[3];
        delay = Duration.FromSeconds(decimal.Parse(fields[4]));
        area = Area.Of(decimal.Parse(fields[5]));
        margin = decimal.Parse(fields[6]);
        conditioning = new ConditioningSettings(
            Enum.Parse<ValidityRule>(fields[9], ignoreCase: true),
            Duration.FromSeconds(decimal.Parse(fields[7])),
            Duration.FromSeconds(decimal.Parse(fields[8])),
            Enum.Parse<Rounding>(fields[10], ignoreCase: true));
        Expected = fields[11];
    }

    public string Id { get; }

    public string Shows { get; }

    /// <summary>"none", or signals as start-end:how, with :priority and ~suspension..end where the table gives them.</summary>
    public string Expected { get; }

    public IReadOnlyList<ReplayedSignal> Replay()
    {
        bool isPulse = limit.StartsWith("pulse ", StringComparison.Ordinal);
        var source = Series.Source(series, isPulse ? ConditionedQuantity.PulseRate : ConditionedQuantity.SpO2);
        string bare = isPulse ? limit[6..] : limit;
        if (isPulse) return bare[0] == '>'
            ? Replayer.RunPulseHigh(source, LimitOf<BeatsPerMinute>(bare[1..]), conditioning)
            : Replayer.RunPulseLow(source, LimitOf<BeatsPerMinute>(bare), conditioning);
        if (bare[0] == '>') return Replayer.RunHigh(source, LimitOf<Percent>(bare[1..]), conditioning);
        string[] parts = bare.Split(" backstop ");
        BackstopSettings? backstop = null;
        if (parts.Length == 2)
        {
            string[] numbers = parts[1].Split('/');
            backstop = new BackstopSettings(Percent.Of(decimal.Parse(numbers[0])), Duration.FromSeconds(decimal.Parse(numbers[1])));
        }

        return Replayer.RunLow(source, LimitOf<Percent>(parts[0]), backstop, conditioning);
    }

    /// <summary>The signals in the table's own words, with as much detail as the table gives.</summary>
    public string Describe(IReadOnlyList<ReplayedSignal> signals) => signals.Count == 0
        ? "none"
        : string.Join(' ', signals.Select(s => SignalText.Describe(s, Expected.Contains(":low", StringComparison.Ordinal) || Expected.Contains(":medium", StringComparison.Ordinal) || Expected.Contains(":high", StringComparison.Ordinal), Expected.Contains('~'))));

    private LimitSettings<T> LimitOf<T>(string text) where T : struct, IQuantity<T> =>
        new(T.FromMicro(FixedPoint.ToMicro(decimal.Parse(text))), delay, area, T.FromMicro(FixedPoint.ToMicro(margin)));
}

internal static class SignalText
{
    public static string Describe(ReplayedSignal signal, bool withPriority, bool withSuspensions)
    {
        string text = $"{Seconds(signal.Start)}-{Seconds(signal.End)}:{signal.Ending.ToString().ToLowerInvariant()}";
        if (withPriority) text += $":{signal.HighestPriority.ToString().ToLowerInvariant()}";
        if (withSuspensions) text += string.Concat(signal.Suspensions.Select(s => $"~{Seconds(s.Start)}..{Seconds(s.End)}"));
        return text;
    }

    /// <summary>Everything about a list of signals, for comparing two lists exactly.</summary>
    public static string Print(IEnumerable<ReplayedSignal> signals) =>
        string.Join('\n', signals.Select(s => $"{s.Condition} {Describe(s, true, true)} decided {Seconds(s.EndDecided)}"));

    public static string Seconds(SampleTime time) => (time.Milliseconds / 1000m).ToString("0.###");
}
