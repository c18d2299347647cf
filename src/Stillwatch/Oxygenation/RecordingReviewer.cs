using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Oxygenation;

/// <summary>Looks back over one recording: exposure, desaturation events, clusters of dips, hour by hour.</summary>
public static class RecordingReviewer
{
    /// <param name="recording">Where the pulse rate, the source's averaging and the name come from.</param>
    /// <param name="spo2">The SpO2 to review.</param>
    /// <param name="conditioning">Everything is counted on the series that these settings make (rules R2–R6), pulse rate included.</param>
    /// <param name="options">Target, more levels, another pulse rate.</param>
    /// <exception cref="ArgumentException"><paramref name="spo2"/> is not SpO2.</exception>
    public static RecordingReview Review(Recording recording, ConditionedSource spo2, ConditioningSettings conditioning, ReviewOptions options)
    {
        if (spo2.Quantity != ConditionedQuantity.SpO2)
            throw new ArgumentException($"Channel '{spo2.Channel.Label}': found {spo2.Quantity}, expected SpO2.", nameof(spo2));
        var period = spo2.Channel.Times.Period;
        var series = ConditionedSeries.Of(spo2, conditioning);
        var pulse = (options.PulseRate ?? ConditionedSource.PulseRateOf(recording)) is { } source ? ConditionedSeries.Of(source, conditioning) : null;
        var events = DesaturationFinder.IsApplicable(period) ? WithPulse(DesaturationFinder.Find(series, period), pulse) : null;
        var clusters = events is null ? null : DipClusters.Of(events);
        var hours = HourByHour.Distributions(series);
        var whole = new TimeDistribution();
        foreach (var (_, distribution) in hours) whole.Add(distribution);
        var baseline = OwnBaseline.Of(hours);
        return new RecordingReview
        {
            Definition = ReviewDefinition.Words(recording, spo2, conditioning, options, baseline),
            Monitored = series.Connected,
            Valid = series.Valid,
            Coverage = series.Coverage,
            Exposure = ExposureMeter.Measure(series, whole, events, options),
            Events = events,
            Clusters = clusters,
            OwnBaseline = baseline,
            Hours = HourByHour.Summarise(series, hours, events, clusters, baseline, options.Levels),
            NotApplicable = [.. WhatDoesNotApply(spo2, series, whole, pulse, baseline)],
        };
    }

    private static List<DesaturationEvent> WithPulse(List<DesaturationEvent> events, ConditionedSeries? pulse) =>
        pulse is null ? events : events.ConvertAll(e => e with { PulseRateRise = PulseRateRise.Of(e, pulse) });

    private static IEnumerable<string> WhatDoesNotApply(ConditionedSource spo2, ConditionedSeries series, TimeDistribution whole, ConditionedSeries? pulse, OwnBaseline? baseline)
    {
        var period = spo2.Channel.Times.Period;
        if (!DesaturationFinder.IsApplicable(period))
        {
            yield return $"One sample every {period.Seconds:0.###} s: desaturation events, ODI3, ODI4, clusters of dips and the Δ index "
                + $"are not defined for series sparser than one sample in {DesaturationDefinition.LongestPeriod.Seconds:0} s.";
        }

        if (series.Valid == Duration.Zero)
            yield return $"Channel '{spo2.Channel.Label}' has no valid value: a zero in this review is no finding.";
        else if (pulse is null)
            yield return "No pulse rate: its change in an event is not known.";
        if (series.Valid > Duration.Zero && baseline is null)
            yield return "No hour has 30 min of values: no change from the patient's own start.";
        ExposureMeter.Histogram(whole, out var outside);
        if (outside > Duration.Zero)
            yield return $"{outside.Seconds:0.###} s at values outside 0–100 %: they are in no bar of the histogram, but in every other figure.";
        if (series.Connected.Hours > HourByHour.HoursAlwaysListed)
            yield return $"{series.Connected.Hours:0} h from first to last row: hours without a value are not listed.";
    }
}
