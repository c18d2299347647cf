using Stillwatch.Time;

namespace Stillwatch.Replay.Fidelity;

/// <summary>A figure in words, the same on pages and in reports.</summary>
public static class FidelityWords
{
    /// <summary>"10 of 12 logged signals reproduced (83.3 %), 10 of 11 replayed ones logged (90.9 %)".</summary>
    public static string Shares(FidelityFigure figure) =>
        $"{figure.Matched} of {figure.Logged} logged signals reproduced{Share(figure.OfLogged, withInterval: false)}, {figure.Matched} of {figure.Replayed} replayed ones logged{Share(figure.OfReplayed, withInterval: false)}";

    /// <summary>The same with intervals and differences of starts, as sentences.</summary>
    public static string Sentences(FidelityFigure figure) =>
        $"Of {figure.Logged} logged signals the replay reproduces {figure.Matched}{Share(figure.OfLogged, withInterval: true)}; of {figure.Replayed} replayed ones the log has {figure.Matched}{Share(figure.OfReplayed, withInterval: true)}. "
        + (figure.Matched == 0 ? "No two signals could be matched." : $"Replayed starts differ from logged ones by a median of {WithSign(figure.MedianDifference!.Value)}, by {WithSign(figure.WorstDifference!.Value)} at worst (plus: replayed later).");

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

    private static string Share(ShareEstimate? share, bool withInterval) => share is not { } s ? string.Empty
        : withInterval ? $" ({s.Share * 100:0.#} %; {s.Low * 100:0.#}–{s.High * 100:0.#} %)" : $" ({s.Share * 100:0.#} %)";
}
