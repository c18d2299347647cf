using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Tuning.Proposals;

/// <summary>What the search found in one weighted set of patients.</summary>
/// <param name="Chosen">The lowest load that stands up to lines 1, 2, 4 and 9 of R14 as far as a choice between candidates can; null: none does.</param>
/// <param name="Plain">The lowest load inside the guard rails as recorded; null: none is inside.</param>
/// <param name="Closest">The fewest misses, then the fewest late, then not too long in signal, then the lowest load; null: no candidate inside the bounds at all.</param>
internal readonly record struct SearchResult(int? Chosen, int? Plain, int? Closest)
{
    /// <summary>The candidate to show, proposed or not.</summary>
    public int? Best => Chosen ?? Plain ?? Closest;
}

/// <summary>Which of the lines that tell candidates apart a candidate fails.</summary>
internal readonly record struct Shortcomings(bool GuardRails, bool HalvedDurations, bool InvalidTime, bool TechnicalLoad, bool SignalTime)
{
    public bool None => !GuardRails && !HalvedDurations && !InvalidTime && !TechnicalLoad && !SignalTime;
}

/// <summary>
/// The search: lowest load whose misses and lateness stay inside the guard rails, ties to the safer setting. A pure function of
/// the weights, so that folds, resamples and leaving one patient out repeat all of it.
/// </summary>
internal sealed class Search
{
    private readonly SearchTable table;
    private readonly GuardRails rails;
    private readonly int[] bySafety; // candidates inside the bounds, the safer first

    public Search(SearchTable table, GuardRails rails)
    {
        this.table = table;
        this.rails = rails;
        var grid = table.Grid;
        CandidateSettings? present = grid.PresentIndex is { } at ? grid.Candidates[at] : null;
        bySafety =
        [
            .. Enumerable.Range(0, grid.Count)
                .Where(c => grid.IsInsideBounds(c) && !table.IsNull[c])
                .OrderByDescending(c => grid.Candidates[c].SpO2Low.Limit)
                .ThenBy(c => grid.Candidates[c].SpO2Low.Delay)
                .ThenBy(c => grid.Candidates[c].SpO2Low.AreaThreshold)
                .ThenBy(c => present is null ? 0 : Change(grid.Candidates[c], present))
                .ThenBy(c => grid.Candidates[c].Averaging)
                .ThenByDescending(c => grid.Candidates[c].Backstop?.Limit ?? default)
                .ThenBy(c => grid.Candidates[c].Backstop?.Delay ?? default)
                .ThenBy(c => c),
        ];
    }

    public SearchResult Run(ReadOnlySpan<int> weights)
    {
        var totals = table.TotalsOf(weights);
        Tally? present = PresentTally(weights);
        int? chosen = null, plain = null, closest = null;
        long chosenLoad = long.MaxValue, plainLoad = long.MaxValue;
        (int Missed, int Late, bool TooLong, long Load) closestKey = (int.MaxValue, int.MaxValue, true, long.MaxValue);
        foreach (int c in bySafety)
        {
            var tally = table.TallyOf(c, weights);
            var key = (tally.Missed, tally.Late, SignalsTooLong(tally, totals), tally.Signals);
            if (key.CompareTo(closestKey) < 0)
            {
                closestKey = key;
                closest = c;
            }

            if (tally.Signals >= plainLoad && tally.Signals >= chosenLoad) continue;
            var faults = ShortcomingsOf(tally, totals, present);
            if (faults.GuardRails) continue;
            if (tally.Signals < plainLoad)
            {
                plainLoad = tally.Signals;
                plain = c;
            }

            if (faults.None && tally.Signals < chosenLoad)
            {
                chosenLoad = tally.Signals;
                chosen = c;
            }
        }

        return new SearchResult(chosen, plain, closest);
    }

    public Tally? PresentTally(ReadOnlySpan<int> weights) =>
        table.Grid.PresentIndex is { } at && !table.IsNull[at] ? table.TallyOf(at, weights) : null;

    public Shortcomings ShortcomingsOf(in Tally tally, in Totals totals, in Tally? present) => new(
        tally.Missed > rails.MissesAllowed || tally.Late > rails.LateAllowed || SignalsTooLong(tally, totals),
        tally.MissedAtHalfLength > rails.MissesAllowed,
        WorstCaseTooBad(tally, totals),
        IsLess(tally, present) && tally.Technical > present?.Technical,
        IsLess(tally, present) && tally.ActiveMilliseconds > present?.ActiveMilliseconds);

    private static bool IsLess(in Tally tally, in Tally? present) => tally.Signals < present?.Signals;

    private bool SignalsTooLong(in Tally tally, in Totals totals) => totals.SignalTimeShare(tally.ActiveMilliseconds) > rails.SignalTimeShare;

    /// <summary>
    /// Whether the worst case breaks a guard rail that the recorded events alone keep. Where they break it already, that is
    /// line 1's to say, and the worst case may not add to it.
    /// </summary>
    private bool WorstCaseTooBad(in Tally tally, in Totals totals)
    {
        if (tally.PossibleMissed == 0) return false;
        double events = table.Bound(tally.Missed + tally.PossibleMissed, totals.EventsAtWorst);
        double patients = table.Bound(tally.PatientsMissedAtWorst, totals.PatientsWithEventsAtWorst);
        return events > Math.Max(rails.EventsBound, table.Bound(tally.Missed, totals.Events))
            || patients > Math.Max(rails.PatientsBound, table.Bound(tally.PatientsMissed, totals.PatientsWithEvents));
    }

    /// <summary>A size of change for ties: one percentage point counts as much as 5 s of delay or averaging, or 20 %·s.</summary>
    private static decimal Change(CandidateSettings one, CandidateSettings other) =>
        Math.Abs(one.SpO2Low.Limit.Value - other.SpO2Low.Limit.Value)
        + Seconds(one.SpO2Low.Delay, other.SpO2Low.Delay) / 5
        + Seconds(one.Averaging, other.Averaging) / 5
        + Math.Abs(one.SpO2Low.AreaThreshold.Value - other.SpO2Low.AreaThreshold.Value) / 20
        + (one.Backstop == other.Backstop ? 0 : 1);

    private static decimal Seconds(Duration one, Duration other) => Math.Abs(one.Milliseconds - other.Milliseconds) / 1000m;
}
