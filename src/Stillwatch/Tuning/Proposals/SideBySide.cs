using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Tuning.Proposals;

/// <summary>A must-catch event that two settings answer differently.</summary>
/// <param name="Patient">The pseudonym.</param>
/// <param name="Recording">The recording's name.</param>
/// <param name="Onset">The event's first sample.</param>
/// <param name="End">First instant after it.</param>
/// <param name="Because">Why it must be caught.</param>
/// <param name="Before">What the one makes of it.</param>
/// <param name="BeforeTime">From onset to signal; null: missed.</param>
/// <param name="After">What the other makes of it.</param>
/// <param name="AfterTime">Likewise.</param>
public sealed record ChangedEvent(
    string Patient, string Recording, SampleTime Onset, SampleTime End, string Because,
    CatchVerdict Before, Duration? BeforeTime, CatchVerdict After, Duration? AfterTime)
{
    /// <summary>Missed or late where it was not, or later than before.</summary>
    public bool IsWorse => After > Before || (After == Before && AfterTime > BeforeTime);
}

/// <summary>Settings that somebody asked about beside each other, with the very numbers that a proposal would show of them.</summary>
public static class SideBySide
{
    /// <summary>One for each candidate of the grid; null where the rules have no cell for it (R7, R8).</summary>
    /// <param name="grid">The candidates.</param>
    /// <param name="patients">The evidence of one group of like recordings (R14.7), a patient each, under that grid.</param>
    /// <param name="rules">Resamples and seed, so that intervals are those of the search.</param>
    public static IReadOnlyList<CandidateEvidence?> Of(CandidateGrid grid, IReadOnlyList<PatientEvidence> patients, ProposalRules rules)
    {
        var table = new SearchTable(grid, [.. patients.OrderBy(p => p.Patient, StringComparer.Ordinal)]);
        var report = new EvidenceReport(table, table.TotalsOf(table.Everyone), new Resampling(patients.Count, rules.Resamples, rules.Seed));
        return [.. Enumerable.Range(0, grid.Count).Select(c => report.Of(c))];
    }

    /// <summary>Every must-catch event whose verdict or time to signal differs; what got worse first, the most seconds lost before fewer.</summary>
    /// <param name="before">Evidence of all patients of a group.</param>
    /// <param name="beforeIndex">The candidate in the grid of <paramref name="before"/>.</param>
    /// <param name="after">Of the same patients, possibly under another grid.</param>
    /// <param name="afterIndex">The candidate in that grid.</param>
    /// <exception cref="ArgumentException">The two are not of the same patients and events.</exception>
    public static IReadOnlyList<ChangedEvent> Changes(IReadOnlyList<PatientEvidence> before, int beforeIndex, IReadOnlyList<PatientEvidence> after, int afterIndex)
    {
        var changed = new List<ChangedEvent>();
        var others = after.ToDictionary(p => p.Patient);
        foreach (var patient in before)
        {
            if (!others.TryGetValue(patient.Patient, out var other) || other.Events.Count != patient.Events.Count)
                throw new ArgumentException($"Patient {patient.Patient}: found other events on the two sides, expected the evidence of the same recordings.", nameof(after));
            foreach (var (one, then) in patient.Events.Zip(other.Events))
            {
                var change = new ChangedEvent(
                    patient.Patient, one.Recording, one.Onset, one.End, one.Because,
                    VerdictOf(one, beforeIndex), one.TimeToSignal(beforeIndex), VerdictOf(then, afterIndex), then.TimeToSignal(afterIndex));
                if (change.Before != change.After || change.BeforeTime != change.AfterTime) changed.Add(change);
            }
        }

        return
        [
            .. changed.OrderByDescending(c => c.IsWorse).ThenByDescending(c => c.After).ThenByDescending(c => Lost(c)).ThenBy(c => c.Patient, StringComparer.Ordinal)
                .ThenBy(c => c.Recording, StringComparer.Ordinal).ThenBy(c => c.Onset),
        ];
    }

    private static long Lost(ChangedEvent change) =>
        (change.AfterTime?.Milliseconds ?? long.MaxValue / 2) - (change.BeforeTime?.Milliseconds ?? long.MaxValue / 2);

    private static CatchVerdict VerdictOf(EventEvidence one, int candidate) =>
        one.IsMissed(candidate) ? CatchVerdict.Missed : one.IsLate(candidate) ? CatchVerdict.Late : CatchVerdict.InTime;
}
