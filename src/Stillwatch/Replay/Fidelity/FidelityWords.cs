using Stillwatch.Time;

namespace Stillwatch.Replay.Fidelity;

/// <summary>A figure in words, the same on pages and in reports.</summary>
public static class FidelityWords
{
    /// <summary>"10 of 12 logged signals reproduced (83.3 %), 10 of 11 replayed ones logged (90.9 %)".</summary>
    public static string Shares(FidelityFigure figure) => Shares(figure, withIntervals: false);

    /// <summary>The same with intervals and differences of starts, as sentences.</summary>
    public static string Sentences(FidelityFigure figure) =>
        $"Of {figure.Logged} logged signals the replay reproduces {figure.Matched}{Share(figure.OfLogged, withInterval: true)}; of {figure.Replayed} replayed ones the log has {figure.Matched}{Share(figure.OfReplayed, withInterval: true)}. "
        + (figure.Matched == 0 ? "No two signals could be matched." : $"Replayed starts differ from logged ones by a median of {WithSign(figure.MedianDifference!.Value)}, by {WithSign(figure.WorstDifference!.Value)} at worst (plus: replayed later).");

    /// <summary>That the log may have begun later than the recording or ended earlier, with the figure without what lies there; null where nothing points to it.</summary>
    /// <param name="result">The comparison.</param>
    /// <param name="clockAt">The clock to show.</param>
    public static string? Lines(FidelityResult result, Func<SampleTime, string> clockAt)
    {
        if (result.Lines is not { } lines) return null;
        var parts = new List<string>();
        if (lines.Before > 0) parts.Add($"The log may have begun later than the recording: its first line is at {clockAt(lines.First)}; {Signals(lines.Before)} before it.");
        if (lines.After > 0) parts.Add($"The log may have ended before the recording: its last line is at {clockAt(lines.Last)}; {Signals(lines.After)} after it.");
        if (lines.Physiological is { } physiological) parts.Add($"Without them, physiological: {Shares(physiological, withIntervals: true)}.");
        if (lines.Technical is { } technical) parts.Add($"Without them, technical: {Shares(technical, withIntervals: true)}.");
        parts.Add("Whether the log was kept then, it does not say.");
        return string.Join(' ', parts);
    }

    /// <summary>That a replay does not reproduce the monitor, or does so only where the log was surely kept; null: it does, or nothing physiological was compared.</summary>
    public static string? NotReproduced(FidelityResult result)
    {
        if (result.Physiological is not { } figure || FidelityRules.Reproduces(figure)) return null;
        string rule = $"at least {FidelityRules.ReproducesFrom * 100:0} % of both expected; unit policy, no source";
        return result.Lines?.Physiological is { } within && FidelityRules.Reproduces(within)
            ? $"Where the log was surely kept the replay reproduces the monitor; over the whole recording it does not ({rule}). Find out when the log was kept before relying on either."
            : $"The replay does not reproduce the monitor ({rule}): its settings, its averaging or its values may be other than those given, and what is computed here may not be what this monitor does.";
    }

    private static string Signals(int count) => count == 1 ? "1 replayed signal lies" : $"{count} replayed signals lie";

    /// <summary>"+3 s": replayed later than logged.</summary>
    public static string WithSign(Duration difference) => difference > Duration.Zero ? $"+{difference}" : difference < Duration.Zero ? $"−{new Duration(-difference.Milliseconds)}" : "0 s";

    /// <summary>All likely reasons of one signal; several settings that would each account for it share their words.</summary>
    public static string Because(IReadOnlyList<LikelyReason> reasons)
    {
        var settings = reasons.Where(r => r.Change is not null).ToList();
        var parts = reasons.Where(r => r.Change is null).Select(r => r.Words).ToList();
        if (settings.Count == 0) return string.Join("; ", parts);
        string changes = string.Join(", or ", settings.Skip(1).Select(r => r.Change!.ToString()).Prepend(settings[0].Words));
        parts.Insert(reasons.TakeWhile(r => r.Change is null).Count(), changes);
        return string.Join("; ", parts);
    }

    /// <summary>How signals were matched.</summary>
    public static string Method(FidelityResult result) =>
        $"The same signal: the same condition, starts at most {result.Options.Tolerance} apart, one to one, as many pairs as can be and then the least difference. Ends are not compared. Intervals are exact (95 %) and take signals as independent, which those of one patient are not."
        + (result.Options.Offset != Duration.Zero ? $" {WithSign(result.Options.Offset)} was added to the times of the log, as asked for." : string.Empty)
        + (result.IsSpanAssumed ? " The log does not say from when to when it was kept: the whole recording was taken." : " Only the time that log and recording both cover is counted.");

    private static string Shares(FidelityFigure figure, bool withIntervals) =>
        $"{figure.Matched} of {figure.Logged} logged signals reproduced{Share(figure.OfLogged, withIntervals)}, {figure.Matched} of {figure.Replayed} replayed ones logged{Share(figure.OfReplayed, withIntervals)}";

    private static string Share(ShareEstimate? share, bool withInterval) => share is not { } s ? string.Empty
        : withInterval ? $" ({s.Share * 100:0.#} %; {s.Low * 100:0.#}–{s.High * 100:0.#} %)" : $" ({s.Share * 100:0.#} %)";
}
