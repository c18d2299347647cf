namespace Stillwatch.Tuning.MustCatch;

/// <summary>How far two reviewers agree on the events that both marked.</summary>
/// <param name="First">One reviewer.</param>
/// <param name="Second">The other.</param>
/// <param name="Both">Events that both marked.</param>
/// <param name="Alike">Of these, those with the same verdict.</param>
/// <param name="Kappa">Cohen's kappa over the four verdicts; null where it is not defined (no event, or both always gave one and the same verdict).</param>
public sealed record ReviewerAgreement(string First, string Second, int Both, int Alike, double? Kappa)
{
    /// <summary>Raw agreement, 0–1; null without an event that both marked.</summary>
    public double? Raw => Both > 0 ? (double)Alike / Both : null;

    /// <summary>Every pair of reviewers with at least one event in common, by name.</summary>
    public static IReadOnlyList<ReviewerAgreement> Between(IReadOnlyList<MustCatchEvent> events, IReadOnlyList<ReviewMark> marks)
    {
        var onEvents = events.Select(e => MarkedEvents.VerdictsOn(e, marks)).ToList();
        string[] reviewers = [.. onEvents.SelectMany(v => v.Keys).Distinct(StringComparer.OrdinalIgnoreCase).Order(StringComparer.OrdinalIgnoreCase)];
        var pairs = new List<ReviewerAgreement>();
        for (int first = 0; first < reviewers.Length; first++)
        {
            for (int second = first + 1; second < reviewers.Length; second++)
            {
                var verdicts = onEvents
                    .Where(v => v.ContainsKey(reviewers[first]) && v.ContainsKey(reviewers[second]))
                    .Select(v => (v[reviewers[first]], v[reviewers[second]])).ToList();
                if (verdicts.Count > 0) pairs.Add(Of(reviewers[first], reviewers[second], verdicts));
            }
        }

        return pairs;
    }

    /// <summary>
    /// Kappa = (po − pe) / (1 − pe): po the raw agreement, pe the agreement expected if each gave their own verdicts at
    /// random in the same proportions (Cohen, Educ Psychol Meas 1960;20:37; from memory).
    /// </summary>
    public static ReviewerAgreement Of(string first, string second, IReadOnlyList<(MarkVerdict First, MarkVerdict Second)> verdicts)
    {
        int both = verdicts.Count;
        int alike = verdicts.Count(v => v.First == v.Second);
        long byChance = Enum.GetValues<MarkVerdict>().Sum(v => (long)verdicts.Count(p => p.First == v) * verdicts.Count(p => p.Second == v));
        long all = (long)both * both;
        double? kappa = all > byChance ? ((double)alike * both - byChance) / (all - byChance) : null;
        return new ReviewerAgreement(first, second, both, alike, kappa);
    }
}
