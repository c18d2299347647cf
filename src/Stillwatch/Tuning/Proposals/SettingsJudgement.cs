using static Stillwatch.Tuning.Proposals.SettingsInWords;

namespace Stillwatch.Tuning.Proposals;

/// <summary>
/// The lines of rule R14 that can be judged of any settings, searched for or not: what somebody decided is judged as itself and never
/// by what the search found instead. "Refuses" here speaks against the settings; a person may decide otherwise.
/// </summary>
public static class SettingsJudgement
{
    /// <summary>The lines judged: misses, events cut short, invalid time, bounds, technical load. The others are of the recordings and of the search.</summary>
    public static readonly IReadOnlyList<int> Lines = [1, 2, 4, 5, 9];

    /// <summary>In the order of the lines; a line may have more than one finding, and each has at least one.</summary>
    /// <param name="settings">What the recordings of one group say of the settings.</param>
    /// <param name="present">The settings in force over the same recordings; null: not known, or the rules have no cell for them.</param>
    /// <param name="fromPresent">Events that present (before) and judged settings (after) answer differently; empty without present settings.</param>
    /// <param name="rails">What may be missed.</param>
    /// <param name="bounds">Inside these a setting may be proposed.</param>
    public static IReadOnlyList<RuleFinding> Of(
        CandidateEvidence settings, CandidateEvidence? present, IReadOnlyList<ChangedEvent> fromPresent, GuardRails rails, SearchBounds bounds) =>
    [
        .. Misses(settings, rails),
        HalfLength(settings, rails),
        Earlier(settings, present, fromPresent),
        InvalidTime(settings, rails),
        Bounds(settings, bounds),
        Technical(settings, present),
    ];

    private static IEnumerable<RuleFinding> Misses(CandidateEvidence e, GuardRails rails)
    {
        if (e.MustCatchEvents == 0)
        {
            yield return new(1, RuleVerdict.Refuses, "there is no must-catch event in these recordings: nothing tests whether these settings miss one.");
            yield break;
        }

        string of = Count(e.MustCatchEvents, "must-catch event");
        string could = $"up to {Share(e.MissedUpperBoundEvents)} of such events and {Share(e.MissedUpperBoundPatients)} of such patients could be missed (exact 95 % upper bounds; guard rails {Share(rails.EventsBound)} and {Share(rails.PatientsBound)}, {rails.Source})";
        bool tooMany = e.Missed > rails.MissesAllowed, tooUncertain = e.MissedUpperBoundEvents > rails.EventsBound || e.MissedUpperBoundPatients > rails.PatientsBound;
        yield return new(1, tooMany || tooUncertain ? RuleVerdict.Refuses : RuleVerdict.Met,
            $"{e.Missed} missed of {of}{(tooMany ? $", {rails.MissesAllowed} allowed" : "")}, in {e.PatientsMissed} of {Count(e.PatientsWithEvents, "patient")}; {could}.");
        if (e.Late > rails.LateAllowed)
            yield return new(1, RuleVerdict.Refuses, $"late for {e.Late} of {of}, {rails.LateAllowed} allowed.");
        if (e.SignalTimeShare > rails.SignalTimeShare)
            yield return new(1, RuleVerdict.Refuses, $"in signal for {Share(e.SignalTimeShare)} of the valid time beyond the must-catch events themselves, {Share(rails.SignalTimeShare)} allowed: a signal that hardly ever stops tells nothing.");
    }

    private static RuleFinding HalfLength(CandidateEvidence e, GuardRails rails) => new(
        2, e.MissedAtHalfLength > rails.MissesAllowed ? RuleVerdict.Refuses : RuleVerdict.Met,
        $"with every event at half its length, {e.MissedAtHalfLength} of {e.MustCatchEvents} would end before the signal.");

    private static RuleFinding Earlier(CandidateEvidence e, CandidateEvidence? present, IReadOnlyList<ChangedEvent> fromPresent)
    {
        if (present is null) return new(2, RuleVerdict.Limits, "the present settings are not known, so what staff may have cut short cannot be listed.");
        var later = fromPresent.Where(c => c.IsWorse).ToList();
        if (later.Count == 0) return new(2, RuleVerdict.Met, "the present settings signalled no must-catch event earlier.");
        double[] lost = [.. later.Where(c => c is { BeforeTime: not null, AfterTime: not null }).Select(c => (c.AfterTime!.Value - c.BeforeTime!.Value).Seconds)];
        int never = later.Count(c => c.AfterTime is null);
        return new(2, RuleVerdict.Limits,
            $"the present settings signalled {Count(later.Count, "must-catch event")} of {e.MustCatchEvents} earlier"
            + (lost.Length > 0 ? $"; {lost.Sum():0} s are lost in all, {lost.Max():0} s in the worst" : "")
            + (never > 0 ? $"; {never} would have had no signal at all" : "") + ". Staff may have cut these events short.");
    }

    private static RuleFinding InvalidTime(CandidateEvidence e, GuardRails rails)
    {
        var cases = e.InvalidTime;
        if (cases.PossibleEvents == 0) return new(4, RuleVerdict.Met, "no invalid time next to low values could hide a must-catch event.");
        bool isWorse = cases.WorstMissed > cases.BestMissed && (cases.WorstUpperBound > Math.Max(rails.EventsBound, e.MissedUpperBoundEvents)
            || cases.WorstUpperBoundPatients > Math.Max(rails.PatientsBound, e.MissedUpperBoundPatients));
        return new(4, isWorse ? RuleVerdict.Refuses : RuleVerdict.Limits,
            $"{Count(cases.PossibleEvents, "stretch of invalid time", "stretches of invalid time")} next to low values may hide events: best case {cases.BestMissed} missed of {e.MustCatchEvents}, "
            + $"worst case {cases.WorstMissed} missed or late of {e.MustCatchEvents + cases.PossibleEvents} (up to {Share(cases.WorstUpperBound)} of events).");
    }

    private static RuleFinding Bounds(CandidateEvidence e, SearchBounds bounds) => bounds.Allow(e.Settings)
        ? new(5, RuleVerdict.Met, $"inside {bounds}.")
        : new(5, RuleVerdict.Refuses, $"outside the bounds inside which anything is proposed ({bounds}).");

    private static RuleFinding Technical(CandidateEvidence e, CandidateEvidence? present)
    {
        string load = $"technical signals {e.TechnicalSignalsPerDay.Value:0.0} per day connected";
        if (present is null) return new(9, RuleVerdict.Limits, $"{load}; the present ones are not known.");
        string both = $"{load} against {present.TechnicalSignalsPerDay.Value:0.0} at present; physiological {e.SignalsPerDay.Value:0.0} against {present.SignalsPerDay.Value:0.0} per day valid";
        if (e.Signals < present.Signals && e.TechnicalSignals > present.TechnicalSignals)
            return new(9, RuleVerdict.Refuses, $"{both}: less physiological load with more technical load is not an improvement.");
        return e.Signals < present.Signals && e.SignalMinutesPerDay > present.SignalMinutesPerDay
            ? new(9, RuleVerdict.Refuses, $"{both}: fewer signals, but {e.SignalMinutesPerDay:0} minutes of signal a day instead of {present.SignalMinutesPerDay:0}: not an improvement.")
            : new(9, RuleVerdict.Met, $"{both}.");
    }
}
