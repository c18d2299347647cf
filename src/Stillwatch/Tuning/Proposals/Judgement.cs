using static Stillwatch.Tuning.Proposals.SettingsInWords;

namespace Stillwatch.Tuning.Proposals;

/// <summary>Rule R14 line by line, in words with numbers. Every line speaks, and every reason for refusing is kept.</summary>
internal static class Judgement
{
    public static List<RuleFinding> Of(GroupEvidence e)
    {
        if (e.Best is not { } best)
        {
            return
            [
                new(5, RuleVerdict.Refuses, $"no candidate lies inside the bounds ({e.Table.Grid.Bounds}) and can be computed."),
            ];
        }

        return
        [
            .. GuardRailLine(e, best),
            .. StaffLine(e, best),
            MarksLine(e),
            InvalidTimeLine(e, best),
            BoundsLine(e, best),
            HeldOutLine(e),
            .. TransferLine(e),
            OnePatientLine(e),
            TechnicalLine(e, best),
            ReviewersLine(e),
        ];
    }

    private static IEnumerable<RuleFinding> GuardRailLine(GroupEvidence e, CandidateEvidence best)
    {
        var rails = e.Rules.GuardRails;
        if (best.MustCatchEvents == 0)
        {
            yield return new(1, RuleVerdict.Refuses,
                $"there is no must-catch event in {Count(e.Recordings, "recording")} of {Count(e.Patients, "patient")}: nothing tests whether settings miss one. More nights are needed.");
            yield break;
        }

        if (best.Missed > rails.MissesAllowed)
            yield return new(1, RuleVerdict.Refuses,
                $"no candidate inside the bounds keeps the guard rail of {Count(rails.MissesAllowed, "miss", "misses")}: the closest misses {best.Missed} of {Count(best.MustCatchEvents, "must-catch event")}.");
        if (best.Late > rails.LateAllowed)
            yield return new(1, RuleVerdict.Refuses,
                $"no candidate inside the bounds keeps the guard rail of {rails.LateAllowed} late: the closest is late for {best.Late} of {Count(best.MustCatchEvents, "must-catch event")}.");
        if (best.SignalTimeShare > rails.SignalTimeShare)
            yield return new(1, RuleVerdict.Refuses,
                $"no candidate inside the bounds that keeps the other guard rails signals for less than {Share(rails.SignalTimeShare)} of the valid time beyond the must-catch events themselves: the closest signals for {Share(best.SignalTimeShare)}. A signal that hardly ever stops tells nothing.");
        string seen = $"{best.Missed} missed of {Count(best.MustCatchEvents, "must-catch event")} still allows up to {Share(best.MissedUpperBoundEvents)} (exact 95 % upper bound)";
        string patients = $"{(best.PatientsMissed == 0 ? "none" : $"{best.PatientsMissed}")} of {Count(best.PatientsWithEvents, "patient")} missed: up to {Share(best.MissedUpperBoundPatients)} of such patients could still have an event missed";
        bool events = best.MissedUpperBoundEvents > rails.EventsBound, people = best.MissedUpperBoundPatients > rails.PatientsBound;
        if (events)
            yield return new(1, RuleVerdict.Refuses,
                $"{seen}; the guard rail is {Share(rails.EventsBound)}. Zero misses are not zero risk: with none missed, {EventsNeeded(rails.EventsBound)} events are needed.");
        if (people)
            yield return new(1, RuleVerdict.Refuses,
                $"{patients}; the guard rail is {Share(rails.PatientsBound)}. With none missed, {EventsNeeded(rails.PatientsBound)} patients with such events are needed.");
        if (!events && !people)
            yield return new(1, RuleVerdict.Met, $"{seen}; {patients}. Inside the guard rails of {Share(rails.EventsBound)} and {Share(rails.PatientsBound)} ({rails.Source}).");
    }

    /// <summary>The smallest n for which zero of n keeps a bound.</summary>
    internal static int EventsNeeded(double bound) => bound is <= 0 or >= 1 ? 1 : (int)Math.Ceiling(Math.Log(1 - ExactBound.Confidence) / Math.Log(1 - bound));

    private static IEnumerable<RuleFinding> StaffLine(GroupEvidence e, CandidateEvidence best)
    {
        var rails = e.Rules.GuardRails;
        if (best.MustCatchEvents == 0) yield break;
        string halved = $"with every event at half its length, {best.MissedAtHalfLength} of {best.MustCatchEvents} would end before the signal";
        if (best.MissedAtHalfLength > rails.MissesAllowed)
            yield return new(2, RuleVerdict.Refuses,
                $"staff answered the alarms that sounded, so events were shortened; {halved}. No candidate inside the bounds stands up to this and the other lines.");
        else if (e is { SetAside: { } aside, SetAsideFor.HalvedDurations: true })
            yield return new(2, RuleVerdict.Limits,
                $"{aside.Settings.InWords()} would give {aside.SignalsPerDay.Value:0.0} signals a day instead of {best.SignalsPerDay.Value:0.0}, but was set aside: with every event at half its length it would miss {aside.MissedAtHalfLength} of {aside.MustCatchEvents}.");
        else yield return new(2, RuleVerdict.Met, $"{halved}.");

        if (!e.PresentGiven)
            yield return new(2, RuleVerdict.Limits, "the present settings are not known, so the events that staff may have cut short cannot be listed.");
        else if (e.Present is null)
            yield return new(2, RuleVerdict.Limits, "the present settings contradict the rules (the limit must lie above the backstop, limit and margin at or below 100 %), so the events that staff may have cut short cannot be listed.");
        else if (e.SignalledEarlier.Count > 0)
        {
            double lost = e.SignalledEarlier.Sum(s => s.Lost?.Seconds ?? 0), worst = e.SignalledEarlier.Max(s => s.Lost?.Seconds ?? 0);
            yield return new(2, RuleVerdict.Limits,
                $"the present settings signalled {Count(e.SignalledEarlier.Count, "must-catch event")} of {best.MustCatchEvents} earlier; {lost:0} s are lost in all{(lost < 90 ? "" : $" ({lost / 60:0} min)")}, {worst:0} s in the worst. Staff may have cut these events short.");
        }
        else yield return new(2, RuleVerdict.Met, "the present settings signalled no must-catch event earlier.");
    }

    private static RuleFinding MarksLine(GroupEvidence e)
    {
        var marks = e.Marks;
        string words = $"{Count(marks.RemovedByAgreement, "must-catch event was", "must-catch events were")} removed as artefact by two agreeing reviewers; "
            + $"{marks.KeptDespiteArtefactMark} with a single or disputed artefact mark {(marks.KeptDespiteArtefactMark == 1 ? "counts" : "count")} as real; {marks.AddedAsSignificant} {(marks.AddedAsSignificant == 1 ? "was" : "were")} added by a reviewer.";
        return new(3, marks.KeptDespiteArtefactMark > 0 ? RuleVerdict.Limits : RuleVerdict.Met, words);
    }

    private static RuleFinding InvalidTimeLine(GroupEvidence e, CandidateEvidence best)
    {
        var cases = best.InvalidTime;
        var rails = e.Rules.GuardRails;
        if (cases.PossibleEvents == 0) return new(4, RuleVerdict.Met, "no invalid time next to low values could hide a must-catch event.");
        int all = best.MustCatchEvents + cases.PossibleEvents;
        string words = $"{Count(cases.PossibleEvents, "stretch of invalid time", "stretches of invalid time")} next to low values may hide must-catch events. "
            + $"Best case {cases.BestMissed} missed of {best.MustCatchEvents} (up to {Share(cases.BestUpperBound)}), "
            + $"worst case {cases.WorstMissed} missed or late of {all} (up to {Share(cases.WorstUpperBound)} of events, {Share(cases.WorstUpperBoundPatients)} of patients)";
        bool worse = cases.WorstUpperBound > Math.Max(rails.EventsBound, best.MissedUpperBoundEvents)
            || cases.WorstUpperBoundPatients > Math.Max(rails.PatientsBound, best.MissedUpperBoundPatients);
        if (worse && cases.WorstMissed > cases.BestMissed)
            return new(4, RuleVerdict.Refuses, $"{words}: the worst case is beyond the guard rails of {Share(rails.EventsBound)} and {Share(rails.PatientsBound)}.");
        string aside = e is { SetAside: { } a, SetAsideFor.InvalidTime: true }
            ? $" {a.Settings.InWords()} with {a.SignalsPerDay.Value:0.0} signals a day was set aside: its worst case is {a.InvalidTime.WorstMissed} missed or late." : "";
        return new(4, RuleVerdict.Limits, $"{words}.{aside}");
    }

    private static RuleFinding BoundsLine(GroupEvidence e, CandidateEvidence best)
    {
        var bounds = e.Table.Grid.Bounds;
        if (e.CheaperOutside is not { } outside) return new(5, RuleVerdict.Met, $"searched only inside {bounds} ({bounds.Source}).");
        return new(5, RuleVerdict.Limits,
            $"searched only inside {bounds} ({bounds.Source}). Outside, {outside.Settings.InWords()} would give {outside.SignalsPerDay.Value:0.0} signals a day instead of {best.SignalsPerDay.Value:0.0}: it may be looked at and is never proposed.");
    }

    private static RuleFinding HeldOutLine(GroupEvidence e)
    {
        if (e.HeldOut is not { } check)
            return new(6, RuleVerdict.Refuses, $"held-out check: needs at least 2 patients, found {e.Patients}.");
        var rails = e.Rules.GuardRails;
        string words = $"the whole search was repeated {Count(check.Folds.Count, "time")}, each time without some of the patients. On the patients it saw (in-sample): {check.InSampleSignalsPerDay:0.0} signals a day, {check.InSampleMissed} missed; "
            + $"on those it had not seen (held-out): {check.HeldOutSignalsPerDay:0.0} signals a day, {check.HeldOutMissed} missed and {check.HeldOutLate} late of {check.HeldOutEvents}";
        if (check.FoldsWithoutAnswer > 0)
            return new(6, RuleVerdict.Refuses, $"{words}; {Count(check.FoldsWithoutAnswer, "time")} nothing stood inside the guard rails.");
        if (check.HeldOutMissed > rails.MissesAllowed || check.HeldOutLate > rails.LateAllowed)
            return new(6, RuleVerdict.Refuses, $"{words}: on patients that the search had not seen it breaks the guard rails of {rails.MissesAllowed} missed and {rails.LateAllowed} late.");
        return check.DifferentChoices > 1
            ? new(6, RuleVerdict.Limits, $"{words}. The {check.Folds.Count} searches chose {check.DifferentChoices} different settings.")
            : new(6, RuleVerdict.Met, $"{words}. All chose the same settings.");
    }

    private static IEnumerable<RuleFinding> TransferLine(GroupEvidence e)
    {
        var key = e.Key;
        if (key.Category == Signals.PatientCategory.Unknown)
            yield return new(7, RuleVerdict.Refuses, "the patient category is not known, and settings are not transferred across categories.");
        var unknown = new List<string>();
        if (key.SourceAveraging is null) unknown.Add("the source's averaging");
        if (key.Oxygen == OxygenStatus.Unknown) unknown.Add("the oxygen status");
        string only = $"holds only for {key}";
        string apart = e.Groups > 1 ? $"; the recordings fell into {e.Groups} groups that were judged apart" : "";
        yield return unknown.Count > 0
            ? new(7, RuleVerdict.Limits, $"{only}{apart}. Not known: {string.Join(" and ", unknown)}; check that the patients this is for are alike.")
            : new(7, e.Groups > 1 ? RuleVerdict.Limits : RuleVerdict.Met, $"{only}{apart}.");
    }

    private static RuleFinding OnePatientLine(GroupEvidence e) => e.Patients == 1
        ? new(8, RuleVerdict.Refuses, $"one patient only ({Count(e.Recordings, "recording")}): a split in time validates nothing. What is shown is descriptive.")
        : new(8, RuleVerdict.Met, $"{e.Patients} patients, {Count(e.Recordings, "recording")}.");

    private static RuleFinding TechnicalLine(GroupEvidence e, CandidateEvidence best)
    {
        string load = $"technical signals {best.TechnicalSignalsPerDay.Value:0.0} per day connected";
        if (e.Present is not { } present) return new(9, RuleVerdict.Met, $"{load}; the present ones cannot be compared.");
        string both = $"{load} against {present.TechnicalSignalsPerDay.Value:0.0} at present; physiological {best.SignalsPerDay.Value:0.0} against {present.SignalsPerDay.Value:0.0} per day valid";
        if (best.Signals < present.Signals && best.TechnicalSignals > present.TechnicalSignals)
            return new(9, RuleVerdict.Refuses, $"{both}: less physiological load with more technical load is not an improvement.");
        if (best.Signals < present.Signals && best.SignalMinutesPerDay > present.SignalMinutesPerDay)
            return new(9, RuleVerdict.Refuses, $"{both}: fewer signals, but {best.SignalMinutesPerDay:0} minutes of signal a day instead of {present.SignalMinutesPerDay:0}: not an improvement.");
        if (e is { SetAside: { } longer, SetAsideFor.SignalTime: true })
            return new(9, RuleVerdict.Limits,
                $"{both}. {longer.Settings.InWords()} would give {longer.SignalsPerDay.Value:0.0} signals a day, but {longer.SignalMinutesPerDay:0} minutes of signal instead of {present.SignalMinutesPerDay:0} at present: not an improvement, set aside.");
        if (e is { SetAside: { } aside, SetAsideFor.TechnicalLoad: true })
            return new(9, RuleVerdict.Limits,
                $"{both}. {aside.Settings.InWords()} would give {aside.SignalsPerDay.Value:0.0} physiological but {aside.TechnicalSignalsPerDay.Value:0.0} technical signals a day: not an improvement, set aside.");
        return new(9, RuleVerdict.Met, $"{both}.");
    }

    private static RuleFinding ReviewersLine(GroupEvidence e)
    {
        if (e.BlindSample is not { } sample) return new(10, RuleVerdict.Limits, "no stretches could be drawn for reviewers: none of the silent time is reviewed.");
        return new(10, sample.ShareNotReviewed > 0 ? RuleVerdict.Limits : RuleVerdict.Met,
            $"{Share(sample.ShareNotReviewed)} of {sample.Quiet.Hours:0.0} h of valid time without a signal is not reviewed; "
            + $"{Count(sample.Drawn.Count, "stretch", "stretches")} of {Count(sample.Waiting, "such stretch", "such stretches")} {(sample.Drawn.Count == 1 ? "was" : "were")} drawn at random for reviewers who do not know the alarms.");
    }
}
