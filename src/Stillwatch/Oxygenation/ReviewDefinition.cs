using Stillwatch.Conditioning;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Oxygenation;

/// <summary>Everything that a reader must know to compare a review's numbers with another's, in words.</summary>
internal static class ReviewDefinition
{
    public static string Words(Recording recording, ConditionedSource spo2, ConditioningSettings conditioning, ReviewOptions options, OwnBaseline? baseline)
    {
        var times = spo2.Channel.Times;
        var sentences = new List<string>
        {
            $"Channel '{spo2.Channel.Label}', one sample every {times.Period.Seconds:0.###} s{(times.IsEven ? "" : " (median step; samples are uneven)")}.",
            $"Averaging: ours {Averaging(conditioning.Averaging, times.Period)}, on top of the source's own, which is {recording.SourceAveraging}.",
            conditioning.Validity == ValidityRule.Standard
                ? "Validity: standard (no number, flagged by the source, at most 0 or above 100 %, poor quality where known, and jumps of more than 10 % a second are left out)."
                : "Validity: none (every number counts as it stands).",
            $"A value holds until the next, at most {conditioning.HoldAfter(times.Period).Seconds:0.###} s (gap tolerance {conditioning.EffectiveGapTolerance(times.Period).Seconds:0.###} s); held time counts.",
            conditioning.Rounding == Rounding.Display ? "Rounding: as displayed, to 1 %, half away from zero." : "Rounding: none.",
            "Everything is weighted by valid time; below means strictly below; per hour means per hour of valid time.",
            "A percentile is the lowest value at or below which that share of the valid time was spent; the median is the 50th.",
        };
        if (options.Target is { } target) sentences.Add($"Target {target.Low.Value:0.######}–{target.High.Value:0.######} %, both included.");
        if (DesaturationFinder.IsApplicable(times.Period))
        {
            sentences.Add(DesaturationDefinition.Words);
            sentences.Add($"Cluster of dips: at least {DipClusters.AtLeast} events, each starting at most {DipClusters.StartsWithin.Seconds:0} s after the one before (unit policy, no source).");
            sentences.Add("Δ index: mean absolute difference of successive 12-s means (definition from memory).");
        }

        if (baseline is not null) sentences.Add($"The patient's own start: median of {baseline.From}, the first with at least 30 min of values (unit policy, no source).");
        sentences.Add("For looking back only; not for alarms or diagnosis: local policy, the prescription and licensed clinicians decide.");
        return string.Join(" ", sentences);
    }

    private static string Averaging(Duration ours, Duration period) => ours > period ? $"{ours.Seconds:0.###} s" : "none";
}
