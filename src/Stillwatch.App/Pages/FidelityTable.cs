using Stillwatch.App.Jobs;
using Stillwatch.Replay.Fidelity;
using Stillwatch.Time;

namespace Stillwatch.App.Pages;

/// <summary>"Does the replay give what the monitor itself signalled?"</summary>
internal static class FidelityTable
{
    private const int SignalsShown = 6;
    private const int TextsShown = 4;

    public static void Write(Page page, FidelityModel model, RecordingStart start)
    {
        var result = model.Result;
        page.Heading($"Does the replay give what the monitor itself signalled? ({Where(model)})");
        if (result.WhyNot is { } why) page.Text($"Not compared: {why}.");
        else
        {
            if (FidelityWords.Lines(result, t => start.ClockAt(t)) is { } lines) page.Text(lines);
            Figures(page, result.Physiological, result.Technical, result.Lines is null ? string.Empty : ", whole recording");
            if (FidelityWords.NotReproduced(result) is { } words) page.Bullet(words);
        }

        Clock(page, result);
        if (result.Conditions.Count > 0) Conditions(page, result.Conditions);
        Signals(page, "Logged and not replayed", [.. result.Missing.Select(m => (m.Signal.Start, $"{Say.Condition(m.Signal.Condition!.Value)} (\"{m.Signal.Text}\")", m.Because))], start);
        Signals(page, "Replayed and not logged", [.. result.Extra.Select(e => (e.Signal.Start, Say.Condition(e.Signal.Condition), e.Because))], start);
        Changes(page, result);
        LeftOut(page, result);
        foreach (var issue in model.Issues.OrderByDescending(i => i.Severity).Where(i => i.Code != Formats.AlarmLists.AlarmListIssueCodes.TextNotUnderstood).Take(TextsShown)) page.Bullet(IssueList.Words(issue));
        page.Note(FidelityWords.Method(result));
    }

    /// <summary>Over several recordings: the sum, then a line for each.</summary>
    public static void Write(Page page, TuneFidelity fidelity)
    {
        if (fidelity.Recordings.Count == 1)
        {
            Write(page, fidelity.Recordings[0].Fidelity, fidelity.Recordings[0].Loaded.Recording.Start);
            return;
        }

        page.Heading($"Does the replay of the present settings give what the monitors themselves signalled? ({fidelity.Recordings.Count} recordings have a log)");
        if (fidelity.Physiological is null && fidelity.Technical is null) page.Text("Nothing could be compared.");
        else Figures(page, fidelity.Physiological, fidelity.Technical);
        if (fidelity.Physiological is { } sum && !FidelityRules.Reproduces(sum)) page.Bullet($"The replay does not reproduce the monitors (at least {FidelityRules.ReproducesFrom * 100:0} % of both expected; unit policy, no source): what is computed here may not be what they do.");
        foreach (var (loaded, model) in fidelity.Recordings)
        {
            if (FidelityWords.Lines(model.Result, t => loaded.Recording.Start.ClockAt(t)) is { } lines) page.Bullet($"{loaded.File.Name}: {lines}");
        }

        var table = Page.TableOf(("Recording", false), ("Logged", true), ("Replayed", true), ("Matched", true), ("Missing", true), ("Extra", true), ("One change that agrees better", false));
        table.Columns[0].NoWrap = true;
        foreach (var (loaded, model) in fidelity.Recordings)
        {
            string better = model.Result.WhyNot ?? (model.Result.BetterChanges is [var best, ..] ? Change(best) : "none of those tried");
            Page.Row(table, [loaded.File.Name, .. Counts(model.Result.Physiological), better]);
        }

        page.Show(table);
        page.Note("Physiological signals alone. Why they differ, signal by signal: stillwatch review of the recording, or --json.");
        page.Note(FidelityWords.Method(fidelity.Recordings[0].Fidelity.Result));
    }

    private static string Where(FidelityModel model) => model.Origin switch
    {
        LogOrigin.Given => model.Result.LogName,
        LogOrigin.Ward => $"{model.Result.LogName}, as ward.json has it",
        _ => "the recording's own notes; --log none leaves them aside",
    };

    private static void Figures(Page page, FidelityFigure? physiological, FidelityFigure? technical, string over = "")
    {
        if (physiological is null) page.Text("Physiological: the log holds none that can be compared; silence of a log is no agreement.");
        else page.Text($"Physiological{over}: {FidelityWords.Sentences(physiological)}");
        if (technical is not null) page.Text($"Technical{over}, never added to them (R12): {FidelityWords.Sentences(technical)}");
    }

    private static void Clock(Page page, FidelityResult result)
    {
        if (result.Clock is not { } clock) return;
        page.Bullet($"The clocks may differ: with {FidelityWords.WithSign(clock.Offset)} added to the times of the log {clock.Matched} signals match in place of {clock.MatchedWithout}. Nothing was added; --log-offset {(result.Options.Offset + clock.Offset).Seconds:0} does so.");
    }

    private static void Conditions(Page page, IReadOnlyList<(Alarms.AlarmCondition Condition, FidelityFigure Figure)> conditions)
    {
        var table = Page.TableOf(("Signals of", false), ("Logged", true), ("Replayed", true), ("Matched", true), ("Missing", true), ("Extra", true), ("Median difference", true), ("Worst", true));
        foreach (var (condition, figure) in conditions)
            Page.Row(table, [Say.Condition(condition), .. Counts(figure), Difference(figure.MedianDifference), Difference(figure.WorstDifference)]);
        page.Show(table);
    }

    private static string[] Counts(FidelityFigure? figure) => figure is null
        ? [Say.Nothing, Say.Nothing, Say.Nothing, Say.Nothing, Say.Nothing]
        : [$"{figure.Logged}", $"{figure.Replayed}", $"{figure.Matched}", $"{figure.Missing}", $"{figure.Extra}"];

    private static string Difference(Duration? difference) => difference is { } d ? FidelityWords.WithSign(d) : Say.Nothing;

    private static void Signals(Page page, string heading, IReadOnlyList<(SampleTime Start, string What, IReadOnlyList<LikelyReason> Because)> signals, RecordingStart start)
    {
        if (signals.Count == 0) return;
        page.Text($"{heading}: {signals.Count}. Likely reasons, found by computing:");
        foreach (var (at, what, because) in signals.Take(SignalsShown)) page.Bullet($"{start.ClockAt(at)}  {what}: {FidelityWords.Because(because)}");
        if (signals.Count > SignalsShown) page.Note($"  {signals.Count - SignalsShown} more: see --json.");
    }

    private static void Changes(Page page, FidelityResult result)
    {
        if (result.BetterChanges.Count == 0) return;
        page.Text($"One setting other than given would agree better. That is evidence of settings that are not known, and no proposal; nothing is applied{(result.Lines is null ? string.Empty : " (the signals far from the log are left out)")}:");
        foreach (var change in result.BetterChanges) page.Bullet($"{Change(change)}: {FidelityWords.Shares(change.Physiological)}");
    }

    private static string Change(ChangeTried change) => $"{Say.Condition(change.Condition)}: {change.Change}";

    private static void LeftOut(Page page, FidelityResult result)
    {
        foreach (var left in result.NotComparable) page.Bullet($"In no figure: {Say.Count(left.Count, "logged signal", "logged signals")} of {Say.Condition(left.Condition)}; {left.Because}");
        if (result.Outside > 0) page.Bullet($"In no figure: {Say.Count(result.Outside, "logged signal", "logged signals")} outside the time that log and recording both cover");
        if (result.NotUnderstood.Count == 0) return;
        string texts = string.Join(", ", result.NotUnderstood.Take(TextsShown).Select(t => t.Count > 1 ? $"\"{t.Text}\" ({t.Count} times)" : $"\"{t.Text}\""));
        page.Bullet($"In no figure, for their text is not understood: {texts}{(result.NotUnderstood.Count > TextsShown ? $" and {result.NotUnderstood.Count - TextsShown} more texts (see --json)" : string.Empty)}");
    }
}
