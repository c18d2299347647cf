using Stillwatch.Time;

namespace Stillwatch.Tuning.Proposals;

/// <summary>Turns sums into the evidence that is shown: loads with intervals, times, bounds, the front, who makes the load.</summary>
internal sealed class EvidenceReport(SearchTable table, Totals totals, Resampling resampling)
{
    private readonly int[] everyone = table.Everyone;

    public CandidateEvidence? Of(int? candidate)
    {
        if (candidate is not { } c || table.IsNull[c]) return null;
        var tally = table.TallyOf(c, everyone);
        var times = Times(c);
        return new CandidateEvidence
        {
            Settings = table.Grid.Candidates[c],
            IsInsideBounds = table.Grid.IsInsideBounds(c),
            Signals = tally.Signals,
            TechnicalSignals = tally.Technical,
            SignalsPerDay = resampling.Estimate(
                SearchTable.PerDay(tally.Signals, totals.ValidMilliseconds),
                w => SearchTable.PerDay(table.TallyOf(c, w).Signals, table.TotalsOf(w).ValidMilliseconds)),
            TechnicalSignalsPerDay = resampling.Estimate(
                SearchTable.PerDay(tally.Technical, totals.ConnectedMilliseconds),
                w => SearchTable.PerDay(table.TallyOf(c, w).Technical, table.TotalsOf(w).ConnectedMilliseconds)),
            SignalMinutesPerDay = SearchTable.PerDay(tally.ActiveMilliseconds, totals.ValidMilliseconds) / 60_000,
            SignalTimeShare = totals.SignalTimeShare(tally.ActiveMilliseconds),
            MustCatchEvents = totals.Events,
            Missed = tally.Missed,
            Late = tally.Late,
            PatientsWithEvents = totals.PatientsWithEvents,
            PatientsMissed = tally.PatientsMissed,
            MissedUpperBoundEvents = table.Bound(tally.Missed, totals.Events),
            MissedUpperBoundPatients = table.Bound(tally.PatientsMissed, totals.PatientsWithEvents),
            MissedAtHalfLength = tally.MissedAtHalfLength,
            InvalidTime = new InvalidTimeCases(
                totals.EventsAtWorst - totals.Events,
                tally.Missed, table.Bound(tally.Missed, totals.Events),
                tally.Missed + tally.PossibleMissed, table.Bound(tally.Missed + tally.PossibleMissed, totals.EventsAtWorst),
                table.Bound(tally.PatientsMissedAtWorst, totals.PatientsWithEventsAtWorst)),
            WorstTimeToSignal = times.Count == 0 ? null : times[^1],
            MedianTimeToSignal = times.Count == 0 ? null : new Duration((times[(times.Count - 1) / 2].Milliseconds + times[times.Count / 2].Milliseconds + 1) / 2),
        };
    }

    /// <summary>Times to signal of the events that were signalled, rising.</summary>
    private List<Duration> Times(int candidate) =>
        [.. table.Patients.SelectMany(p => p.Events).Select(e => e.TimeToSignal(candidate)).OfType<Duration>().Order()];

    public Estimate? LoadChange(int best, int? present)
    {
        if (present is not { } at || table.IsNull[at]) return null;
        double Percent(int[] w)
        {
            long now = table.TallyOf(at, w).Signals;
            return now == 0 ? double.NaN : 100.0 * table.TallyOf(best, w).Signals / now - 100;
        }

        double value = Percent(everyone);
        return double.IsNaN(value) ? null : resampling.Estimate(value, Percent);
    }

    /// <summary>Non-dominated in load and worst time to signal among candidates that miss nothing, the lowest load first.</summary>
    public IReadOnlyList<FrontPoint> Front()
    {
        if (totals.Events == 0) return [];
        var points = new List<(long Signals, Duration Worst, int Candidate)>();
        for (int c = 0; c < table.Grid.Count; c++)
        {
            if (table.IsNull[c]) continue;
            var tally = table.TallyOf(c, everyone);
            if (tally.Missed == 0) points.Add((tally.Signals, Times(c)[^1], c));
        }

        var front = new List<FrontPoint>();
        Duration? least = null;
        foreach (var (signals, worst, c) in points.OrderBy(p => p.Signals).ThenBy(p => p.Worst).ThenByDescending(p => table.Grid.IsInsideBounds(p.Candidate)).ThenBy(p => p.Candidate))
        {
            if (least is { } l && worst >= l) continue;
            least = worst;
            front.Add(new FrontPoint(table.Grid.Candidates[c], SearchTable.PerDay(signals, totals.ValidMilliseconds), worst, table.Grid.IsInsideBounds(c)));
        }

        return front;
    }

    public IReadOnlyList<PatientShare> Contributors(int candidate)
    {
        long all = Math.Max(1, table.TallyOf(candidate, everyone).Signals);
        return
        [
            .. table.Patients
                .Select(p => new PatientShare(
                    p.Patient, p.Signals[candidate], SearchTable.PerDay(p.Signals[candidate], p.Valid.Milliseconds), p.Signals[candidate] / (double)all))
                .OrderByDescending(s => s.Signals).ThenBy(s => s.Patient, StringComparer.Ordinal),
        ];
    }

    /// <summary>The search again without each patient, where that changes its answer; the loudest first.</summary>
    public IReadOnlyList<LeftOut> LeavingOneOut(Search search, int best, IReadOnlyList<PatientShare> contributors)
    {
        if (table.Patients.Count < 2) return [];
        var changed = new List<LeftOut>();
        foreach (var share in contributors)
        {
            int patient = Enumerable.Range(0, table.Patients.Count).First(p => table.Patients[p].Patient == share.Patient);
            int[] weights = table.Everyone;
            weights[patient] = 0;
            var result = search.Run(weights);
            int? other = result.Chosen ?? result.Plain;
            if (other == best) continue;
            changed.Add(new LeftOut(
                share.Patient, share.Share, other is { } o ? table.Grid.Candidates[o] : null,
                other is { } c ? SearchTable.PerDay(table.TallyOf(c, weights).Signals, table.TotalsOf(weights).ValidMilliseconds) : null));
        }

        return changed;
    }

    /// <summary>Must-catch events that the present settings signalled earlier, the most seconds lost first.</summary>
    public IReadOnlyList<EarlierSignal> SignalledEarlier(int best, int? present)
    {
        if (present is not { } at || table.IsNull[at]) return [];
        var found = new List<EarlierSignal>();
        foreach (var patient in table.Patients)
        {
            foreach (var one in patient.Events)
            {
                if (one.TimeToSignal(at) is not { } now) continue;
                var then = one.TimeToSignal(best);
                if (then is null || then > now)
                    found.Add(new EarlierSignal(patient.Patient, one.Recording, one.Onset, one.End, now, then, then is { } t ? t - now : null));
            }
        }

        return
        [
            .. found.OrderByDescending(f => f.Lost?.Milliseconds ?? long.MaxValue).ThenBy(f => f.Patient, StringComparer.Ordinal)
                .ThenBy(f => f.Recording, StringComparer.Ordinal).ThenBy(f => f.Onset),
        ];
    }

    /// <summary>The cheapest candidate outside the bounds that keeps the guard rails and costs less than the best inside.</summary>
    public CandidateEvidence? CheaperOutside(Search search, int best)
    {
        long least = table.TallyOf(best, everyone).Signals;
        int? found = null;
        for (int c = 0; c < table.Grid.Count; c++)
        {
            if (table.Grid.IsInsideBounds(c) || table.IsNull[c] || c == table.Grid.PresentIndex) continue;
            var tally = table.TallyOf(c, everyone);
            if (tally.Signals >= least || search.ShortcomingsOf(tally, totals, null).GuardRails) continue;
            least = tally.Signals;
            found = c;
        }

        return Of(found);
    }
}
