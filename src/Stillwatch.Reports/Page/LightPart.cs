using System.Globalization;
using Stillwatch.Oximetry;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Plots;
using Stillwatch.Reports.Wording;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Reports.Page;

/// <summary>The parts of a page about derived numbers.</summary>
internal static class LightPart
{
    private const int RowsAtMost = 200;

    public static string About(LightSection section)
    {
        var clock = new Clock(section.Recording.Start);
        var end = section.Derived.Start + new Duration(section.Derived.Seconds.Count * 1000L);
        string when = section.Recording.Start.IsKnown ? $"; {clock.WithDayAt(section.Derived.Start)} to {clock.WithDayAt(end)}" : "; the time of day is not known";
        return $"{section.Recording.Name}; {Words.Span(end - section.Derived.Start)} of light{when}";
    }

    public static void Answer(HtmlText html, LightSection section)
    {
        var summary = section.Summary;
        using (html.Element("section", "answer", "answer"))
        {
            html.Leaf("h2", "What numbers does this light give?");
            html.Leaf("p", Given(section), "verdict");
            html.Leaf("h2", "Why not the rest?");
            html.Leaf("p", Refused(summary));
            html.Leaf("h2", "By which curve?");
            var curve = section.Derived.Settings.Curve;
            html.Leaf("p", section.Derived.Plan.RedLabel is null ? $"None, and so no SpO2: {section.Derived.Plan.NoSaturationBecause ?? "there is one light only"}." : $"“{curve.Name}”, {section.Derived.Settings.CurveBecause}: {curve.Source}. Where it holds: {curve.Range}.");
            if (summary.AssumedCurveInWords(section.Derived.Settings) is { } assumed) html.Leaf("p", $"Assumed: {assumed}.");
            if (summary.BeyondCurveInWords(curve.Name) is { } beyond) html.Leaf("p", $"In doubt: {beyond}.", "verdict");
        }

        using (html.Element("div", "tiles"))
        {
            Tile(html, "Seconds with numbers", Words.PercentOf(summary.PercentValid), $"{Words.Number(summary.SecondsValid, 0)} of {Words.Number(summary.SecondsTotal, 0)}");
            if (section.Derived.Plan.RedLabel is not null) Tile(html, "SpO2 derived, median", summary.SpO2 is { } s ? $"{Words.Number(s.Median, 1)}\u00a0%" : "–", Range(summary.SpO2, 1));
            Tile(html, "Pulse rate, median", summary.PulseRate is { } p ? $"{Words.Number(p.Median, 0)}\u00a0/min" : "–", Range(summary.PulseRate, 0));
            if (section.Derived.Plan.IsLight) Tile(html, "Perfusion index, median", summary.Perfusion is { } f ? $"{Words.Number(f.Median, 2)}\u00a0%" : "–", Range(summary.Perfusion, 2));
            Tile(html, "Respiratory rate, median", summary.RespiratoryRate is { } r ? $"{Words.Number(r.Median, 0)}\u00a0/min" : "–", $"{summary.WindowsKept} of {Words.Count(summary.Windows, "window")}");
        }
    }

    public static void Figures(HtmlText html, LightSection section)
    {
        if (DetailStrip.Of(section.Derived) is not { } strip)
        {
            html.Paragraph("No second of light was read, so there is nothing to draw.");
            return;
        }

        var clock = new Clock(section.Recording.Start);
        html.Figure($"{Words.Span(strip.Span.Length)} beat by beat",
            $"These seconds were chosen because {strip.Why}. Times are {clock.Caption}. Each triangle is a beat, at the steepest rise; the full dot is its peak, the ring its trough. Hatched: no number is given, and the rows at the foot say why.",
            Reports.Figures.LightDetail(section), () => Beats(html, section, strip.Span, clock), "The beats of these seconds as a table");
        html.Figure("The whole recording",
            "Light from lowest to highest in each pixel; every number below it belongs to the light above it. Hatched: no number is given. A bar in the rows at the foot says why.",
            Reports.Figures.LightOverview(section), () => Whole(html, section, clock), "The same minute by minute, and the states, as tables");
    }

    public static void Method(HtmlText html, LightSection section)
    {
        var (plan, settings) = (section.Derived.Plan, section.Derived.Settings);
        html.Leaf("h2", "How these numbers were made", id: "method");
        html.List(
        [
            $"Pulses were found in “{plan.PulseLabel}”{(plan.RedLabel is { } red ? $", taken as infrared light; “{red}” was taken as red light" : plan.IsLight ? ", a light" : ", a pleth of unknown zero, so that there is no perfusion index")}. Its values {(plan.FallsWithBlood ? "fall when blood volume rises and were turned over" : "rise with blood volume")}.",
            $"The chain ran at {plan.Rate}.{(plan.Resampling is { } r ? $" The samples are uneven and were brought onto that grid; steps up to {Words.Number(r.GreatestStepSeconds, 2)} s were bridged; the error is at most {Words.Number(r.RelativeError * 100, 1)} % of the pulse (an upper estimate).{(r.CoarseTimesInWords is { } coarse ? $" In doubt: {coarse}." : "")}" : "")}",
            $"Numbers are averaged over {Words.Span(settings.Averaging)}. Beats by the detector “{section.Detector}”. Respiratory rate over windows of {Words.Span(settings.BreathingWindow)}.",
            plan.RedLabel is null ? "Without red light there is no ratio and no SpO2." : $"Calibration curve “{settings.Curve.Name}”: {settings.Curve.Source}. Where it holds: {settings.Curve.Range}.",
            DerivedWords.Beats,
            DerivedWords.PerSecond,
            DerivedWords.Perfusion,
            DerivedWords.Quality,
            DerivedWords.Breathing,
        ]);
        html.Table("Channels that could hold a pulse", ["Channel", "Used", "Because", "Mean quality"],
            plan.Candidates.Take(RowsAtMost).Select(c => (IReadOnlyList<string>)[c.Label, c.Chosen ? "yes" : "no", c.Reason, Number(c.MeanQuality, 2)]), 3);
        html.Leaf("h3", "Found while reading the file");
        PlainIssues.Write(html, section.Issues);
    }

    private static string Given(LightSection section)
    {
        var s = section.Summary;
        if (s.SecondsValid == 0) return $"None that can be trusted, in {Words.Count(s.SecondsTotal, "second")} of light.";
        string text = $"{Words.Number(s.SecondsValid, 0)} of {Words.Count(s.SecondsTotal, "second")} carry numbers, from {Words.Count(section.Derived.Beats.Count, "beat")}.";
        if (s.PulseRate is { } p) text += $" Pulse rate {Words.Number(p.Least, 0)} to {Words.Number(p.Greatest, 0)}\u00a0/min, median {Words.Number(p.Median, 0)}.";
        if (s.SpO2 is { } o) text += $" SpO2 {Words.Number(o.Least, 1)} to {Words.Number(o.Greatest, 1)}\u00a0%, median {Words.Number(o.Median, 1)}.";
        return text;
    }

    private static string Refused(DerivedSummary summary)
    {
        var refused = summary.States.Where(s => s.State != LightState.Valid).ToList();
        return refused.Count == 0
            ? "Every second carries numbers."
            : $"{string.Join("; ", refused.Select(s => $"{s.State.InWords()} {Words.Span(new Duration(s.Seconds * 1000L))}"))}. These are states of the measurement and say nothing of the patient.";
    }

    private static void Beats(HtmlText html, LightSection section, TimeSlice span, Clock clock)
    {
        var derived = section.Derived;
        var beats = derived.Beats.Select(b => (Beat: b, At: derived.Start + new Duration((long)Math.Round(b.UpstrokeSeconds * 1000)))).Where(b => span.Contains(b.At)).ToList();
        html.Table($"Beats{First(beats.Count)}", ["Clock", "Second", "Amplitude", "Ratio", "Quality"],
            beats.Take(RowsAtMost).Select(b => (IReadOnlyList<string>)
                [clock.At(b.At), Number(b.Beat.UpstrokeSeconds, 3), b.Beat.Amplitude.ToString("G3", CultureInfo.InvariantCulture), Number(b.Beat.Ratio, 3), Number(b.Beat.Quality, 2)]));
    }

    private static void Whole(HtmlText html, LightSection section, Clock clock)
    {
        var derived = section.Derived;
        int step = derived.Seconds.Count <= 600 ? 10 : derived.Seconds.Count <= 60 * RowsAtMost ? 60 : 60 * (derived.Seconds.Count / (60 * RowsAtMost) + 1);
        html.Table($"Medians over each {Words.Span(new Duration(step * 1000L))}",
            ["From", "With numbers", "Ratio", "SpO2 derived", "Pulse rate", "Perfusion index", "Quality"],
            Enumerable.Range(0, (derived.Seconds.Count + step - 1) / step).Select(i =>
            {
                var part = derived.Seconds.Skip(i * step).Take(step).ToList();
                return (IReadOnlyList<string>)
                [
                    clock.At(derived.Start + new Duration(i * step * 1000L)), $"{part.Count(s => s.State == LightState.Valid)} of {part.Count}\u00a0s",
                    Median(part, s => s.RatioOfRatios, 3), Median(part, s => s.SpO2Percent, 1), Median(part, s => s.PulseRatePerMinute, 1), Median(part, s => s.PerfusionPercent, 2), Median(part, s => s.Quality, 2),
                ];
            }));
        var stretches = DerivedSummary.Stretches(derived).Where(s => s.State != LightState.Valid).ToList();
        html.Table($"Stretches without numbers{First(stretches.Count)}", ["From", "Because", "For"],
            stretches.Take(RowsAtMost).Select(s => (IReadOnlyList<string>)[clock.At(s.Span.Start), s.State.InWords(), Words.Span(s.Span.Length)]), 2);
        html.Table($"Respiratory rate, window by window{First(derived.Breathing.Count)}", ["From", "Rate", "By the light's level", "By the pulse's amplitude", "By the time between beats"],
            derived.Breathing.Take(RowsAtMost).Select(b => (IReadOnlyList<string>)
                [clock.At(derived.Start + new Duration((long)(b.StartSeconds * 1000))), Number(b.RatePerMinute, 1), Number(b.FromIntensity, 1), Number(b.FromAmplitude, 1), Number(b.FromFrequency, 1)]));
    }

    private static string Median(List<SecondReading> part, Func<SecondReading, double> value, int decimals) => Number(DerivedSummary.Spread.Of(part.Select(value))?.Median ?? double.NaN, decimals);

    private static string Number(double value, int decimals) => double.IsFinite(value) ? Words.Number(value, decimals) : "–";

    private static string Range(DerivedSummary.Spread? spread, int decimals) => spread is null ? "never given" : $"{Words.Number(spread.Least, decimals)} to {Words.Number(spread.Greatest, decimals)}";

    private static string First(int count) => count > RowsAtMost ? $"; the first {RowsAtMost} of {Words.Number(count, 0)}" : "";

    private static void Tile(HtmlText html, string label, string value, string more)
    {
        using (html.Element("div", "tile"))
        {
            html.Leaf("span", label, "label");
            html.Leaf("span", value, "value");
            html.Leaf("span", more, "more");
        }
    }
}
