using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Jobs;

/// <summary>What the recordings of one group say of settings that somebody decided on, as the search would have judged them.</summary>
/// <param name="Evidence">With the very numbers that a proposal would show; null where the rules have no cell for such settings.</param>
/// <param name="Findings">The lines of R14 that can be judged of any settings.</param>
internal sealed record DecidedModel(CandidateEvidence? Evidence, IReadOnlyList<RuleFinding> Findings);

/// <summary>Judges settings that the search may never have looked at.</summary>
internal static class DecidedJob
{
    public static DecidedModel Run(TunedGroup group, CandidateSettings decided)
    {
        var rules = TuneJob.RulesFor(group.Category, group.Map.Request);
        var bounds = rules.For(group.Category.Category).Bounds;
        var present = group.Search.Proposal.Present;
        var grid = CandidateGrid.Of([decided, .. present is null ? Array.Empty<CandidateSettings>() : [present.Settings]], bounds);
        var patients = group.Recordings.GroupBy(r => r.Loaded.Patient).OrderBy(p => p.Key, StringComparer.Ordinal)
            .Select(p => new PatientNights(p.Key, p.Select(r => r.Evidence), rules, [decided.Averaging]).Under(grid)).ToList();
        return SideBySide.Of(grid, patients, rules)[0] is { } evidence
            ? new DecidedModel(evidence, SettingsJudgement.Of(evidence, present, present is null ? [] : SideBySide.Changes(patients, 1, patients, 0), rules.GuardRails, bounds))
            : new DecidedModel(null, []);
    }
}
