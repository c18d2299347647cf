using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Handover;

/// <summary>The ten checks on the page of a decision: of what was decided where they can be, and never another setting's under its name.</summary>
internal static class DecisionChecks
{
    /// <summary>What must not be overlooked about the settings decided, in one frame; null: nothing, or no settings were decided.</summary>
    public static string? Warning(DecisionModel model)
    {
        if (model.Decided is not { } decided) return null;
        var proposal = model.Evidence.Proposal;
        var against = new List<string>();
        if (decided.Missed > 0) against.Add($"They miss {decided.Missed} of {Words.Count(decided.MustCatchEvents, "must-catch event")} on these recordings.");
        if (decided.Late > 0) against.Add($"They are late for {decided.Late} of {Words.Count(decided.MustCatchEvents, "must-catch event")}.");
        if (model.OfDecided.FirstOrDefault(f => f is { Line: 5, Verdict: RuleVerdict.Refuses }) is { } bounds) against.Add($"They lie {bounds.Words}");
        if (proposal is { IsRefused: true }) against.Add("The program refuses to propose a change; the reasons stand below.");
        else if (proposal?.Chosen is { } chosen && chosen.Settings != decided.Settings) against.Add($"They are not what the program proposes: {SettingsWords.Full(chosen.Settings)}.");
        if (against.Count == 0) return null;
        bool isOtherAlone = against.Count == 1 && proposal is { IsRefused: false } && !model.OfDecided.Any(f => f.Verdict == RuleVerdict.Refuses);
        return (isOtherAlone ? "" : "The evidence does not support these settings. ") + string.Join(" ", against);
    }

    /// <summary>Whether the search's own findings are of other settings than those decided.</summary>
    public static bool AreApart(DecisionModel model) =>
        model is { Decided: { } decided, Evidence.Proposal: { } proposal } && decided.Settings != proposal.Best?.Settings;

    public static IEnumerable<Block> Compose(DecisionModel model)
    {
        if (model.Evidence.Proposal is not { } proposal)
        {
            if (model.OfDecided.Count > 0) yield return Table("The checks of the settings decided", model.OfDecided, "speaks against");
            yield return new Block.Prose(model.OfDecided.Count > 0 ? "No search for other settings was made, so none of the other checks was." : "No search for other settings was made, so none of the ten checks was.");
            yield break;
        }

        if (AreApart(model))
        {
            foreach (var block in Apart(model, proposal)) yield return block;
            yield break;
        }

        if (proposal.Findings.Count == 0)
        {
            if (proposal.IsRefused) yield return new Block.Prose("No change is proposed, because:");
            yield return new Block.Points([.. proposal.RefusedBecause.Concat(proposal.Caveats).Select(Reasons.Plain)]);
            yield break;
        }

        if (proposal.IsRefused) yield return new Block.Prose("No change is proposed: the checks that refuse one say why.");
        yield return Table("The ten checks" + (model.Decided is null && proposal.Best is { } best ? $", of the settings the search looked for ({SettingsWords.Short(best.Settings.SpO2Low)})" : ""), proposal.Findings, "refuses");
    }

    /// <summary>Two tables: what is said of the settings decided, and what is not of them.</summary>
    private static IEnumerable<Block> Apart(DecisionModel model, Proposal proposal)
    {
        if (model.OfDecided.Count > 0) yield return Table("Checks of the settings decided", model.OfDecided, "speaks against");
        else yield return new Block.Warning("The settings decided were not judged by the ten checks.");
        string looked = proposal.Best is { } best ? $" ({SettingsWords.Short(best.Settings.SpO2Low)})" : "";
        string caption = $"Of the settings the search looked for{looked}, not of those decided";
        if (proposal.Findings.Count == 0)
        {
            yield return new Block.Name(caption);
            yield return new Block.Points([.. proposal.RefusedBecause.Concat(proposal.Caveats).Select(Reasons.Plain)]);
            yield break;
        }

        // A reason to refuse is never left out, whichever line it is of.
        yield return Table(caption, [.. proposal.Findings.Where(f => f.Verdict == RuleVerdict.Refuses || !SettingsJudgement.Lines.Contains(f.Line))], "refuses");
    }

    private static Block.Grid Table(string caption, IReadOnlyList<RuleFinding> findings, string against) => new(caption, ["Check", "Result", "Found"],
    [
        .. findings.GroupBy(f => f.Line).OrderBy(g => g.Key).Select(g => (IReadOnlyList<string>)
        [
            $"{g.Key}. {Reasons.Checks[Math.Clamp(g.Key, 1, Reasons.Checks.Count) - 1]}",
            g.Max(f => f.Verdict) switch { RuleVerdict.Met => "met", RuleVerdict.Limits => "to know", _ => against },
            string.Join(" ", g.Select(f => Reasons.Plain(f.Words))),
        ]),
    ], 3);
}
