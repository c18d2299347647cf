using Stillwatch.Alarms;
using Stillwatch.Oximetry;
using Stillwatch.Oxygenation;
using Stillwatch.Rehearsal.Scenarios;
using Stillwatch.Replay;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Plots;
using Stillwatch.Time;

namespace Stillwatch.Reports.Wording;

/// <summary>What each figure shows, said in a sentence for those who hear the page instead of seeing it.</summary>
internal static class Sentences
{
    public static string Overview(RecordingSection section)
    {
        if (section.SpO2 is not { } spO2) return "The recording has no SpO2.";
        var clock = new Clock(section.Recording.Start);
        string text = $"SpO2 from {clock.WithDayAt(spO2.Start)} to {clock.WithDayAt(spO2.End)}, {Words.Span(spO2.Connected)}.";
        if (section.Review is { Exposure: { Minimum: { } minimum } exposure })
        {
            text += $" Lowest {Words.Saturation(minimum)}";
            if (exposure.Below.Count > 0) text += $"; {Words.Span(exposure.Below[0].Time)} below {Words.Saturation(exposure.Below[0].Level)}";
            text += ".";
        }
        else text += " No valid value in it.";

        if (section.MustCatch.Count > 0) text += $" {Words.Count(section.MustCatch.Count, "must-catch event")}.";
        if (section.PresentSignals is { } present) text += $" {Words.Count(present.Count(s => s.Condition.IsPhysiological()), "physiological signal")} under {SettingsWords.Of(section)}";
        if (section.ProposedSignals is { } proposed) text += $", {Words.Number(proposed.Count(s => s.Condition.IsPhysiological()), 0)} under proposed settings";
        return section.PresentSignals is null ? text : text + ".";
    }

    /// <summary>Light and derived numbers over a span.</summary>
    public static string Light(LightSection section, SampleTime from, SampleTime to)
    {
        var clock = new Clock(section.Recording.Start);
        var derived = section.Derived;
        int first = (int)Math.Max(0, (from - derived.Start).Milliseconds / 1000), after = (int)Math.Min(derived.Seconds.Count, ((to - derived.Start).Milliseconds + 999) / 1000);
        var seconds = derived.Seconds.Skip(first).Take(Math.Max(0, after - first)).ToList();
        string text = $"Derived from light, not a monitor's reading; {clock.WithDayAt(from)} to {clock.WithDayAt(to)}. {Words.Number(seconds.Count(s => s.State == LightState.Valid), 0)} of {Words.Count(seconds.Count, "second")} carry numbers.";
        if (DerivedSummary.Spread.Of(seconds.Select(s => s.SpO2Percent)) is { } spO2) text += $" SpO2 {Words.Number(spO2.Least, 0)} to {Words.Number(spO2.Greatest, 0)}\u00a0%.";
        if (DerivedSummary.Spread.Of(seconds.Select(s => s.PulseRatePerMinute)) is { } pulse) text += $" Pulse rate {Words.Number(pulse.Least, 0)} to {Words.Number(pulse.Greatest, 0)}\u00a0/min.";
        foreach (var (state, count) in seconds.Where(s => s.State != LightState.Valid).GroupBy(s => s.State).Select(g => (g.Key, g.Count())).OrderByDescending(g => g.Item2).Take(3))
            text += $" {char.ToUpperInvariant(state.InWords()[0])}{state.InWords()[1..]}: {Words.Span(new Duration(count * 1000L))}.";
        return text;
    }

    /// <summary>Truth and screen of a rehearsal.</summary>
    public static string Rehearsal(RehearsalRun run, IReadOnlyList<ReplayedSignal> signals)
    {
        double least = run.Patient.Min(p => p.SiteSaturationPercent), greatest = run.Patient.Max(p => p.SiteSaturationPercent);
        return $"Invented. {run.Scenario.Title}, {Words.Span(Duration.FromSeconds(run.Seconds))}. True saturation at the sensor {Words.Number(least, 0)} to {Words.Number(greatest, 0)}\u00a0%. "
            + $"{Words.Count(run.Episodes.Count, "stretch", "stretches")} of note; {Words.Count(signals.Count, "signal")} under the category’s starting settings.";
    }

    public static string Histogram(Exposure exposure)
    {
        string text = $"Bars of time at each whole percent of SpO2. Median {Words.Saturation(exposure.Median)}, lowest {Words.Saturation(exposure.Minimum)}";
        foreach (var below in exposure.Below) text += $"; below {Words.Saturation(below.Level)} for {Words.Span(below.Time)}";
        return text + ".";
    }

    public static string Hours(IReadOnlyList<HourSummary> hours, Clock clock)
    {
        var worst = hours.Where(h => h.Below.Count > 0).MaxBy(h => h.Below[0].Time);
        string text = $"{Words.Count(hours.Count, "hour")}, each with the minutes below each level.";
        return worst is null || worst.Below[0].Time <= Duration.Zero ? text
            : $"{text} Most time below {Words.Saturation(worst.Below[0].Level)} in the hour from {clock.MinuteAt(worst.Span.Start)}: {Words.Span(worst.Below[0].Time)}.";
    }

    public static string WorstEvents(IReadOnlyList<WorstEvent> events, Clock clock) =>
        "One panel an event: " + string.Join("; ", events.Select(e => $"{clock.At(e.Start)}, lowest {Words.Saturation(e.Nadir)}, {Words.Span(e.Length)}")) + ".";

    public static string Falls(IReadOnlyList<DesaturationEvent> falls) =>
        $"{Words.Count(falls.Count, "fall")}, the longest {Words.Span(falls.Max(f => f.End - f.Start))}, the deepest {Words.Points(falls.Max(f => f.Depth))}.";

    public static string Map(MapPicture picture, IReadOnlyList<MapMark> marks)
    {
        string text = $"Physiological {picture.Counted} for low limits of {Words.Saturation(picture.Limits[0])} to {Words.Saturation(picture.Limits[^1])} and "
            + (picture.Threshold == MapThreshold.Delay
                ? $"delays of {Words.Number(picture.Thresholds[0], 0)} to {Words.Number(picture.Thresholds[^1], 0)} seconds."
                : $"area thresholds of {Words.Number(picture.Thresholds[0], 0)} to {Words.Number(picture.Thresholds[^1], 0)} %·s.");
        return text + string.Concat(marks.Where(m => m.ThresholdOn(picture) is not null).Select(m => $" Marked: {m.Label}."));
    }

    public static string Loads(IReadOnlyList<LoadRow> rows) =>
        string.Join("; ", rows.Select(r => $"{r.Label}: {Words.RateWords(r.SignalsPerDay.Value)} signals per patient-day")) + ".";

    public static string Front(SettingsSection section) =>
        $"{Words.Count(section.Proposal?.Front.Count ?? 0, "settings set", "settings sets")} that no other one beats in both load and time to signal.";

    public static string Contributors(WardSection ward)
    {
        var sorted = ContributorsPlot.Sorted(ward);
        var loudest = sorted.Count > 0 ? sorted[0] : null;
        double? load = loudest is null ? null : ContributorsPlot.PerDay(loudest.PresentSignals, loudest.Valid);
        return load is null ? "Alarm load of each patient." : $"Alarm load of each patient, the loudest first: {loudest!.Patient} with {Words.RateWords(load.Value)} signals per patient-day.";
    }
}
