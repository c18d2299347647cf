using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;

namespace Stillwatch.Reports.Plots;

/// <summary>What the detail strip shows, for those who hear the page.</summary>
internal static class StripSentence
{
    public static string Of(StripModel model, StripView view, Clock clock)
    {
        var window = view.Window;
        string text = $"{clock.WithDayAt(window.Start)} to {clock.WithDayAt(window.End)}, {Words.Span(window.Length)}; {clock.Caption}.";
        foreach (var panel in model.Panels.Where(p => p.Kind != StripPanelKind.Pleth).OrderBy(p => p.Kind))
        {
            float[] least = [.. panel.Least.Where(v => !float.IsNaN(v))], greatest = [.. panel.Greatest.Where(v => !float.IsNaN(v))];
            text += least.Length == 0 ? $" {panel.Label}: no value." : $" {panel.Label} {Words.Number(least.Min(), 1)} to {Words.Number(greatest.Max(), 1)} {panel.Unit}.".Replace(" .", ".", StringComparison.Ordinal);
        }

        foreach (var gap in model.Gaps.Where(g => g.Span.Overlaps(window)).GroupBy(g => g.Reason, StringComparer.Ordinal)) text += $" {Words.Count(gap.Count(), "gap")}: {gap.Key}.";
        foreach (var lane in model.Lanes) text += $" {lane.Name}: {Words.Count(lane.Signals.Count(s => !s.IsTechnical && s.Span.End >= window.Start && s.Span.Start <= window.End), "physiological signal")}.";
        int mustCatch = model.Events.Count(e => e.IsMustCatch && e.Span.Overlaps(window));
        if (mustCatch > 0) text += $" {Words.Count(mustCatch, "must-catch event")}.";
        return text;
    }
}
