using Stillwatch.Alarms;
using Stillwatch.Oxygenation;
using Stillwatch.Replay;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Plots;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;

namespace Stillwatch.Reports.Page;

/// <summary>One recording: what happened, figure by figure.</summary>
internal sealed class RecordingPart(HtmlText html, RecordingSection section, int number)
{
    private const int RowsAtMost = 200;
    private const int EventsShown = 6;

    private readonly Clock clock = new(section.Recording.Start);

    public void Write()
    {
        if (section.SpO2 is not { } spO2)
        {
            html.Paragraph("The recording has no SpO2, so there is nothing to look back over.");
            return;
        }

        if (spO2.Valid <= Duration.Zero)
            html.Paragraph($"The recording runs for {Words.Span(spO2.Connected)} and holds no valid SpO2 value: there is nothing to look back over.");
        else
            Figures();
        if (section.Fidelity is { } fidelity) FidelityPart.Write(html, fidelity, clock, SettingsWords.Of(section));
        if (section.Review is { NotApplicable.Count: > 0 } review)
        {
            html.Leaf("h4", "What does not apply to this recording");
            html.List(review.NotApplicable);
        }
    }

    private void Figures()
    {
        html.Figure("The whole recording", OverviewExplained(), Reports.Figures.Overview(section, $"r{number}-overview"),
            section.PresentSignals is { Count: > 0 } || section.ProposedSignals is { Count: > 0 } ? Signals : null, "Every alarm signal as a table");
        if (section.Review is not { } review) return;
        html.Figure("Hour by hour",
            "Minutes spent below each level in each hour. The darker the cell, the longer. Hatched: little or no valid time.",
            Reports.Figures.HourStrip(review.Hours, section.Recording.Start, $"r{number}-hours"), () => Hours(review.Hours), "Hour by hour in words and numbers");
        html.Figure("The worst events",
            $"The deepest {EventsShown} at most, on one scale, with three minutes before and after; the event itself is shaded. The ring is the lowest point, the dotted line the baseline before the fall{Limits()}.{Beneath()}",
            Reports.Figures.WorstEvents(section, EventsShown, $"r{number}-events"), () => Events(review), "All events as tables");
        html.Figure("Time at each SpO2",
            section.PresentSettings?.SpO2Low is null ? "How long SpO2 stood at each percent." : $"How long SpO2 stood at each percent. Darker bars lie below the {SettingsWords.LowLimitOf(section.ReplayedName)}.",
            Reports.Figures.ExposureHistogram(review.Exposure, section.PresentSettings, $"r{number}-histogram", section.ReplayedName), () => Exposure(review), "Exposure in numbers");
        html.Figure("Falls: how long and how deep", "One mark for each fall. Top right is worst: long and deep.",
            Reports.Figures.Falls(section, $"r{number}-falls"));
    }

    private string Limits()
    {
        string text = section.PresentSettings?.SpO2Low is { } low ? $", the dashed line the {SettingsWords.LowLimitOf(section.ReplayedName)} ({Words.Saturation(low.Limit)})" : "";
        return section.ProposedSettings?.SpO2Low is { } other && other.Limit != section.PresentSettings?.SpO2Low?.Limit
            ? $"{text}, the finely dashed line the proposed one ({Words.Saturation(other.Limit)})" : text;
    }

    private string Beneath()
    {
        bool arrows = section.MustCatch.Count > 0;
        if (section.PresentSignals is null && section.ProposedSignals is null) return arrows ? " The arrow is where a must-catch event begins." : "";
        return arrows
            ? " Beneath: the alarm signals, and how long after the arrow they start; the arrow is where a must-catch event begins (without one, times count from where the shading begins)."
            : " Beneath: the alarm signals, and how long after the shading begins they start.";
    }

    private string OverviewExplained()
    {
        var parts = new List<string> { $"Times are {clock.Caption}." };
        if (section.MustCatch.Count > 0) parts.Add(section.MustCatch.Any(m => m.Present is not null)
            ? $"Must-catch events under {SettingsWords.Of(section)}: full circle, signalled in time; ring with dot, late; cross, missed."
            : "Must-catch events are marked by squares.");
        if (section.PresentSignals is not null) parts.Add("Alarm signals: the taller the bar, the higher the priority (tall red: high; medium yellow; low cyan). The number at the right counts them.");
        return string.Join(" ", parts);
    }

    private void Signals()
    {
        foreach (var (name, signals) in new[] { (SettingsWords.Of(section), section.PresentSignals), ("proposed settings", section.ProposedSignals) })
        {
            if (signals is null) continue;
            if (signals.Count == 0)
            {
                html.Paragraph($"No alarm signal under {name}.");
                continue;
            }

            html.Table($"Alarm signals under {name}: {Words.Number(signals.Count, 0)}{First(signals.Count)}",
                ["Start", "About", "Priority", "Ended", "Active for"],
                signals.OrderBy(s => s.Start).Take(RowsAtMost).Select(s => (IReadOnlyList<string>)[clock.WithDayAt(s.Start), Words.Of(s.Condition), s.HighestPriority.ToString().ToLowerInvariant(), Ending(s), Words.Span(s.Active)]), 4);
        }
    }

    private static string Ending(ReplayedSignal signal) => signal.Ending switch
    {
        SignalEnding.Cleared => "SpO2 or pulse rate recovered, or the fault ended",
        SignalEnding.Lost => "the reading was lost",
        _ => "with the recording",
    };

    private void Hours(IReadOnlyList<HourSummary> hours)
    {
        var levels = hours.Select(h => h.Below).MaxBy(b => b.Count) ?? [];
        html.Table($"Each hour from the first row on{First(hours.Count)}",
            ["Hour", "In words", "Valid", .. levels.Select(l => $"Below {Words.Saturation(l.Level)}"), "Falls", "Clusters of falls", "Median SpO2"],
            hours.Take(RowsAtMost).Select(h => (IReadOnlyList<string>)
            [
                $"{clock.MinuteAt(h.Span.Start)} to {clock.MinuteAt(h.Span.End)}", h.Words, Words.Span(h.Valid),
                .. Enumerable.Range(0, levels.Count).Select(i => i < h.Below.Count ? Words.Span(h.Below[i].Time) : "–"),
                Number(h.Events), Number(h.Clusters), Words.Saturation(h.Median),
            ]), 2);
    }

    private void Events(RecordingReview review)
    {
        if (section.MustCatch.Count > 0)
        {
            html.Table($"Must-catch events{First(section.MustCatch.Count)}",
                ["Number", "Onset", "Because", "Lasted", "Lowest", .. Answering().Select(a => a.Name)],
                section.MustCatch.Take(RowsAtMost).Select((m, i) => (IReadOnlyList<string>)
                [
                    Words.Number(i + 1, 0), clock.WithDayAt(m.Event.Onset), string.Join("; ", m.Event.Parts.Select(p => p.Because).Distinct()),
                    Words.Span(m.Event.End - m.Event.Onset), Words.Saturation(m.Event.Nadir), .. Answering().Select(a => Answer(a.Of(m))),
                ]), 3);
        }

        if (review.Events is { Count: > 0 } falls)
        {
            html.Table($"Falls of at least 3 points: {Words.Number(falls.Count, 0)}, of which {Words.Number(falls.Count(f => f.IsFallOf4), 0)} of at least 4{First(falls.Count)}",
                ["Start", "Lasted", "Baseline", "Lowest", "Depth", "Area", "Recovery", "Pulse rate"],
                falls.OrderBy(f => f.Start).Take(RowsAtMost).Select(f => (IReadOnlyList<string>)
                [
                    clock.WithDayAt(f.Start), Words.Span(f.End - f.Start), Words.Saturation(Math.Round((double)f.Baseline.Value, 1)), Words.Saturation(f.Nadir),
                    Words.Points(Quantities.Percent.FromMicro((int)(Math.Round(f.Depth.Micro / 100_000.0) * 100_000))), SettingsWords.AreaText(f.Area),
                    f.Recovery is { } r ? Words.Span(r) : "–", f.PulseRateRise is { } rise ? $"{(rise < 0 ? "−" : "+")}{Words.Number(Math.Abs(rise), 0)}\u00a0/min" : "–",
                ]));
        }
    }

    private void Exposure(RecordingReview review)
    {
        var exposure = review.Exposure;
        html.Table("Time below",
            ["SpO2", "Time", "Share of valid time", "Minutes per hour of valid time"],
            exposure.Below.Select(b => (IReadOnlyList<string>)[$"below {Words.Saturation(b.Level)}", Words.Span(b.Time), Words.Share(b.PercentOfValid / 100), Words.Number(b.MinutesPerHour, 1)]));
        html.Table("SpO2 over the valid time",
            ["Mean", "Median", "5th percentile", "1st percentile", "Lowest", "Falls of 3 points per hour (ODI3)", "Falls of 4 points per hour (ODI4)", "Area below 90 % per hour"],
            [[Words.Saturation(exposure.Mean), Words.Saturation(exposure.Median), Words.Saturation(exposure.Percentile5), Words.Saturation(exposure.Percentile1), Words.Saturation(exposure.Minimum), Odi(exposure.Odi3), Odi(exposure.Odi4), $"{Words.Number(exposure.AreaBelow90PerHour, 0)}\u00a0%·s"]], 0);
        if (exposure.Target is { } target)
        {
            html.Table($"Against the target of {Words.Saturation(target.Low)} to {Words.Saturation(target.High)}",
                ["Below", "Within", "Above"], [[Words.Span(target.Below), Words.Span(target.Within), Words.Span(target.Above)]], 0);
        }

        html.Table("Time at each whole percent",
            ["SpO2", "Time", "Share of valid time"],
            Enumerable.Range(0, exposure.Histogram.Count).Reverse().Where(p => exposure.Histogram[p] > Duration.Zero)
                .Select(p => (IReadOnlyList<string>)[$"{p}\u00a0%", Words.Span(exposure.Histogram[p]), review.Valid > Duration.Zero ? Words.Share(exposure.Histogram[p].Seconds / review.Valid.Seconds) : "–"]));
    }

    private static string Odi(double? odi) => odi is { } o ? Words.Number(o, 1) : "does not apply";

    private static string Number(int? count) => count is { } c ? Words.Number(c, 0) : "–";

    private static string Answer(CatchAnswer? answer) => answer switch
    {
        null => "–",
        { TimeToSignal: { } time } when time <= Duration.Zero => $"{Words.Of(answer.Verdict)}, already on",
        { TimeToSignal: { } time } => $"{Words.Of(answer.Verdict)}, after {Words.Span(time)}",
        _ => Words.Of(answer.Verdict),
    };

    private static string First(int count) => count > RowsAtMost ? $"; the first {RowsAtMost} of {Words.Number(count, 0)}" : "";

    /// <summary>The settings whose answers can be shown: a column of dashes would only ask what it is for.</summary>
    private IEnumerable<(string Name, Func<MustCatchOutcome, CatchAnswer?> Of)> Answering()
    {
        if (section.MustCatch.Any(m => m.Present is not null)) yield return (char.ToUpperInvariant(SettingsWords.Of(section)[0]) + SettingsWords.Of(section)[1..], m => m.Present);
        if (section.MustCatch.Any(m => m.Proposed is not null)) yield return ("Proposed settings", m => m.Proposed);
    }
}
