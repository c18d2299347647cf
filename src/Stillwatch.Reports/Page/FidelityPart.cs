using Stillwatch.Replay.Fidelity;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;

namespace Stillwatch.Reports.Page;

/// <summary>Whether the replay gives what the monitor itself signalled, and where not, why.</summary>
internal static class FidelityPart
{
    private const int SignalsShown = 50;

    /// <param name="html">Where to.</param>
    /// <param name="result">The comparison.</param>
    /// <param name="clock">Of the recording.</param>
    /// <param name="settings">What was replayed, in words.</param>
    public static void Write(HtmlText html, FidelityResult result, Clock clock, string settings)
    {
        html.Leaf("h4", "The replay beside the monitor’s own log");
        if (result.WhyNot is { } why)
        {
            html.Paragraph($"The log ({result.LogName}) was not compared with the replay: {why}.");
            return;
        }

        if (FidelityWords.Lines(result, clock.WithDayAt) is { } lines) html.Paragraph(Reasons.Plain(lines));
        html.Paragraph(result.Physiological is { } figure
            ? $"Physiological signals, {settings}{(result.Lines is null ? "" : ", over the whole recording")}: {Reasons.Plain(FidelityWords.Sentences(figure))}"
            : "The log holds no physiological signal that can be compared; silence of a log is no agreement.");
        if (FidelityWords.NotReproduced(result) is { } low) html.Paragraph(Reasons.Plain(low));
        if (result.Technical is { } technical) html.Paragraph($"Technical signals, never added to them: {Reasons.Plain(FidelityWords.Sentences(technical))}");
        if (result.Clock is { } difference)
            html.Paragraph($"The clocks may differ: with {FidelityWords.WithSign(difference.Offset)} added to the times of the log {difference.Matched} signals would match in place of {difference.MatchedWithout}. Nothing was added.");
        using (html.Details("Signal by signal, and why they differ")) Tables(html, result, clock);
        html.Paragraph(Reasons.Plain(FidelityWords.Method(result)));
    }

    private static void Tables(HtmlText html, FidelityResult result, Clock clock)
    {
        html.Table($"Signals in {result.LogName} and in the replay",
            ["Signals of", "Logged", "Replayed", "Matched", "Missing", "Extra"],
            result.Conditions.Select(c => (IReadOnlyList<string>)[Words.Of(c.Condition), .. new[] { c.Figure.Logged, c.Figure.Replayed, c.Figure.Matched, c.Figure.Missing, c.Figure.Extra }.Select(n => Words.Number(n, 0))]));
        Differing(html, "Logged and not replayed", [.. result.Missing.Select(m => (m.Signal.Start, Words.Of(m.Signal.Condition!.Value), m.Because))], clock);
        Differing(html, "Replayed and not logged", [.. result.Extra.Select(e => (e.Signal.Start, Words.Of(e.Signal.Condition), e.Because))], clock);
        if (result.BetterChanges.Count > 0)
        {
            html.Table($"One setting changed that would agree better: evidence of settings that are not known, no proposal{(result.Lines is null ? "" : "; the signals far from the log are left out")}",
                ["Signals of", "With", "Logged", "Replayed", "Matched"],
                result.BetterChanges.Select(c => (IReadOnlyList<string>)[Words.Of(c.Condition), c.Change.ToString(), Words.Number(c.Physiological.Logged, 0), Words.Number(c.Physiological.Replayed, 0), Words.Number(c.Physiological.Matched, 0)]), 2);
        }

        if (result.NotComparable.Count > 0)
            html.List(result.NotComparable.Select(n => $"In no figure: {Words.Count(n.Count, "logged signal")} of {Words.Of(n.Condition)}; {n.Because}."));
        if (result.NotUnderstood.Count > 0)
            html.Paragraph($"In no figure, for their text is not understood: {Words.Count(result.NotUnderstood.Sum(t => (long)t.Count), "line")} of the log.");
    }

    private static void Differing(HtmlText html, string caption, IReadOnlyList<(SampleTime Start, string What, IReadOnlyList<LikelyReason> Because)> signals, Clock clock)
    {
        if (signals.Count == 0) return;
        html.Table($"{caption}: {Words.Number(signals.Count, 0)}{(signals.Count > SignalsShown ? $"; the first {SignalsShown}" : "")}", ["Start", "About", "Likely because"],
            signals.Take(SignalsShown).Select(s => (IReadOnlyList<string>)[clock.WithDayAt(s.Start), s.What, Reasons.Plain(FidelityWords.Because(s.Because))]), 3);
    }
}
