namespace Stillwatch.Tuning.Proposals;

/// <summary>One fold of the held-out check: the whole search on the other patients, judged on these.</summary>
/// <param name="Number">From 1.</param>
/// <param name="HeldOutPatients">Their pseudonyms.</param>
/// <param name="Chosen">What the search chose without them; null: nothing stood inside the guard rails.</param>
/// <param name="InSampleSignalsPerDay">Of the chosen settings, on the patients the search saw.</param>
/// <param name="HeldOutSignalsPerDay">Of the same settings, on the patients it did not see.</param>
/// <param name="HeldOutEvents">Must-catch events of the held-out patients.</param>
/// <param name="HeldOutMissed">Missed of them.</param>
/// <param name="HeldOutLate">Late of them.</param>
public sealed record HeldOutFold(
    int Number, IReadOnlyList<string> HeldOutPatients, CandidateSettings? Chosen,
    double InSampleSignalsPerDay, double HeldOutSignalsPerDay, int HeldOutEvents, int HeldOutMissed, int HeldOutLate);

/// <summary>The whole search inside each fold of patients, in-sample and held-out side by side (R14.6).</summary>
public sealed record HeldOutCheck
{
    public required IReadOnlyList<HeldOutFold> Folds { get; init; }

    /// <summary>Signals per 24 h valid on the patients each fold's search saw, pooled over the folds with an answer.</summary>
    public required double InSampleSignalsPerDay { get; init; }

    /// <summary>The same settings on the patients it did not see.</summary>
    public required double HeldOutSignalsPerDay { get; init; }

    /// <summary>In-sample misses, summed over folds like the held-out ones; an event counts once per fold that saw it.</summary>
    public required int InSampleMissed { get; init; }

    public required int InSampleEvents { get; init; }

    public required int HeldOutMissed { get; init; }

    public required int HeldOutLate { get; init; }

    public required int HeldOutEvents { get; init; }

    public int FoldsWithoutAnswer => Folds.Count(f => f.Chosen is null);

    public int DifferentChoices => Folds.Where(f => f.Chosen is not null).Select(f => f.Chosen).Distinct().Count();
}

internal static class HeldOut
{
    /// <summary>Null with fewer than two patients: a split in time of one patient validates nothing (R14.8).</summary>
    public static HeldOutCheck? Check(SearchTable table, Search search, int folds, ulong seed)
    {
        int patients = table.Patients.Count;
        int count = Math.Min(folds, patients);
        if (count < 2) return null;
        int[] order = [.. Enumerable.Range(0, patients)];
        var draws = SeededDraws.For(seed, purpose: 2);
        draws.Shuffle(order);
        var found = new List<HeldOutFold>();
        long inSignals = 0, inValid = 0, outSignals = 0, outValid = 0;
        int inMissed = 0, inEvents = 0, outMissed = 0, outLate = 0, outEvents = 0;
        for (int fold = 0; fold < count; fold++)
        {
            int[] train = table.Everyone;
            var test = new int[patients];
            for (int i = fold; i < patients; i += count)
            {
                train[order[i]] = 0;
                test[order[i]] = 1;
            }

            int[] heldOut = [.. Enumerable.Range(0, patients).Where(p => test[p] > 0)];
            string[] names = [.. heldOut.Select(p => table.Patients[p].Patient)];
            var result = search.Run(train);
            var unseenTotals = table.TotalsOf(test);
            if ((result.Chosen ?? result.Plain) is not { } chosen)
            {
                found.Add(new HeldOutFold(fold + 1, names, null, double.NaN, double.NaN, unseenTotals.Events, 0, 0));
                continue;
            }

            var seenTotals = table.TotalsOf(train);
            var seen = table.TallyOf(chosen, train);
            var unseen = table.TallyOf(chosen, test);
            found.Add(new HeldOutFold(
                fold + 1, names, table.Grid.Candidates[chosen],
                SearchTable.PerDay(seen.Signals, seenTotals.ValidMilliseconds), SearchTable.PerDay(unseen.Signals, unseenTotals.ValidMilliseconds),
                unseenTotals.Events, unseen.Missed, unseen.Late));
            inSignals += seen.Signals;
            inValid += seenTotals.ValidMilliseconds;
            outSignals += unseen.Signals;
            outValid += unseenTotals.ValidMilliseconds;
            inMissed += seen.Missed;
            inEvents += seenTotals.Events;
            outMissed += unseen.Missed;
            outLate += unseen.Late;
            outEvents += unseenTotals.Events;
        }

        return new HeldOutCheck
        {
            Folds = found,
            InSampleSignalsPerDay = SearchTable.PerDay(inSignals, inValid),
            HeldOutSignalsPerDay = SearchTable.PerDay(outSignals, outValid),
            InSampleMissed = inMissed,
            InSampleEvents = inEvents,
            HeldOutMissed = outMissed,
            HeldOutLate = outLate,
            HeldOutEvents = outEvents,
        };
    }
}
