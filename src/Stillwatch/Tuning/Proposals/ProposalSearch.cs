using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tuning.Proposals;

/// <summary>One group of like recordings and what the evidence says for it (R14.7).</summary>
public sealed record GroupProposal(GroupKey Group, IReadOnlyList<string> Patients, int Recordings, Duration Valid, Duration Connected, Proposal Proposal);

/// <summary>Looks for the settings that the evidence supports, or says why there are none (rule R14).</summary>
public static class ProposalSearch
{
    /// <summary>
    /// One answer per group of like recordings; the groups in a fixed order. The same recordings, policy and seed give the same
    /// answer, whatever order they come in.
    /// </summary>
    /// <param name="patients">Entries with the same pseudonym are the same patient. Recordings without a row are left out.</param>
    /// <param name="rules">Bounds, guard rails, candidates, seed.</param>
    /// <param name="present">The settings in use; null: not known.</param>
    public static IReadOnlyList<GroupProposal> Propose(
        IReadOnlyList<PatientRecordings> patients, ProposalRules rules, CandidateSettings? present) =>
        Propose(patients, rules, _ => present);

    /// <summary>The same where categories have present settings of their own.</summary>
    public static IReadOnlyList<GroupProposal> Propose(
        IReadOnlyList<PatientRecordings> patients, ProposalRules rules, Func<PatientCategory, CandidateSettings?> presentOf)
    {
        var groups = patients
            .SelectMany(p => p.Recordings.Select(r => (p.Patient, Recording: r, Key: GroupKey.Of(p.Category, r))))
            .Where(r => r.Recording.SpO2.Channel.Times.Count > 0)
            .GroupBy(r => r.Key)
            .OrderBy(g => g.Key.Order)
            .ToList();
        var answers = new List<GroupProposal>();
        foreach (var group in groups)
        {
            var members = group
                .OrderBy(r => r.Patient, StringComparer.Ordinal).ThenBy(r => r.Recording.Name, StringComparer.Ordinal)
                .ThenBy(r => r.Recording.SpO2.Channel.Times.Count)
                .Select(r => (r.Patient, r.Recording))
                .ToList();
            var present = presentOf(group.Key.Category);
            var grid = CandidateGrid.Of(rules.For(group.Key.Category), present);
            var evidence = members.GroupBy(m => m.Patient)
                .Select(p => EvidenceFromMaps.Of(p.Key, [.. p.Select(m => m.Recording)], grid, rules))
                .ToList();
            var marks = members.Aggregate(MarkCounts.None, (sum, m) => sum + m.Recording.Marks);
            var proposal = Answer(group.Key, groups.Count, grid, evidence, rules, present, marks, under => BlindSampling.Draw(members, under, rules));
            answers.Add(new GroupProposal(
                group.Key, [.. evidence.Select(e => e.Patient)], members.Count,
                new(evidence.Sum(e => e.Valid.Milliseconds)), new(evidence.Sum(e => e.Connected.Milliseconds)), proposal));
        }

        return answers;
    }

    /// <summary>The answer for one group from its patients' evidence, however that was come by.</summary>
    internal static Proposal Answer(
        GroupKey key, int groups, CandidateGrid grid, IReadOnlyList<PatientEvidence> patients, ProposalRules rules,
        CandidateSettings? present, MarkCounts marks, Func<CandidateSettings, BlindSample>? blind)
    {
        var inOrder = patients.OrderBy(p => p.Patient, StringComparer.Ordinal).ToList();
        var table = new SearchTable(grid, inOrder);
        var search = new Search(table, rules.GuardRails);
        var resampling = new Resampling(inOrder.Count, rules.Resamples, rules.Seed);
        var totals = table.TotalsOf(table.Everyone);
        var result = search.Run(table.Everyone);
        var report = new EvidenceReport(table, totals, resampling);
        int? best = result.Best;
        int? heard = grid.PresentIndex is { } at && !table.IsNull[at] ? at : best;
        var contributors = heard is { } h ? report.Contributors(h) : [];
        bool setAside = result.Chosen is not null && result.Plain != result.Chosen;
        var evidence = new GroupEvidence
        {
            Key = key,
            Groups = groups,
            Rules = rules,
            Table = table,
            Totals = totals,
            Result = result,
            Best = report.Of(best),
            Present = report.Of(grid.PresentIndex),
            PresentGiven = present is not null,
            HeldOut = HeldOut.Check(table, search, rules.Folds, rules.Seed),
            SignalledEarlier = best is { } s ? report.SignalledEarlier(s, grid.PresentIndex) : [],
            Contributors = contributors,
            LeavingOneOut = best is { } l ? report.LeavingOneOut(search, l, contributors) : [],
            ChosenAgain = rules.Resamples > 0 && inOrder.Count > 1 && best is { } again
                ? resampling.Weights.Count(w => search.Run(w).Best == again) / (double)rules.Resamples : null,
            LoadChangePercent = best is { } b ? report.LoadChange(b, grid.PresentIndex) : null,
            BlindSample = Silence(grid, present, best) is { } silence ? blind?.Invoke(silence) : null,
            Marks = marks,
            CheaperOutside = best is { } cheaper ? report.CheaperOutside(search, cheaper) : null,
            SetAside = setAside ? report.Of(result.Plain) : null,
            SetAsideFor = setAside && result.Plain is { } plain
                ? search.ShortcomingsOf(table.TallyOf(plain, table.Everyone), totals, search.PresentTally(table.Everyone)) : default,
        };
        var findings = Judgement.Of(evidence);
        List<string> refused = [.. findings.Where(f => f.Verdict == RuleVerdict.Refuses).Select(f => f.ToString())];
        return new Proposal
        {
            Chosen = refused.Count == 0 ? evidence.Best : null,
            Best = evidence.Best,
            Present = evidence.Present,
            RefusedBecause = refused,
            Caveats = [.. findings.Where(f => f.Verdict == RuleVerdict.Limits).Select(f => f.ToString()), .. Caveats.Of(evidence)],
            Findings = findings,
            Front = report.Front(),
            HeldOut = evidence.HeldOut,
            SignalledEarlier = evidence.SignalledEarlier,
            Contributors = evidence.Contributors,
            LeavingOneOut = evidence.LeavingOneOut,
            ChosenAgain = evidence.ChosenAgain,
            LoadChangePercent = evidence.LoadChangePercent,
            BlindSample = evidence.BlindSample,
            Method = $"physiological signals per 24 h of valid time ({new Duration(totals.ValidMilliseconds).Hours:0.0} h), technical per 24 h connected ({new Duration(totals.ConnectedMilliseconds).Hours:0.0} h), "
                + $"each pooled over {SettingsInWords.Count(inOrder.Count, "patient")} and never added together; {Resampling.Method}; {rules.Resamples} resamples, seed {rules.Seed}; "
                + $"bounds: exact binomial, one-sided 95 % (Clopper–Pearson); searched {grid.Count} candidates; guard rails: {rules.GuardRails.Source}",
        };
    }

    /// <summary>Whose silence reviewers look into: the present settings', because only those were heard; where unknown, the best candidate's.</summary>
    private static CandidateSettings? Silence(CandidateGrid grid, CandidateSettings? present, int? best) =>
        present is not null && present.CanRun() ? present : best is { } b ? grid.Candidates[b] : null;
}
