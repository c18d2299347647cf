using static Stillwatch.Tuning.Proposals.SettingsInWords;

namespace Stillwatch.Tuning.Proposals;

/// <summary>What the reader should know beside the ten lines: who makes the load, how firm the choice is, what it changes.</summary>
internal static class Caveats
{
    private const int NamedAtMost = 3;

    public static IEnumerable<string> Of(GroupEvidence e)
    {
        if (e.Best is not { } best) yield break;
        foreach (string words in Change(e, best)) yield return words;
        foreach (string words in Loud(e)) yield return words;
        if (best.Settings.SpO2Low is { AreaThreshold: var area } low && area > Quantities.Area.Zero)
            yield return $"What an area threshold of {area.Value:0.###} %·s means at the bedside: a value 1 point below {low.Limit.Value:0.###} % may stand for {area.Value:0.#} s before it signals, 5 points below for {area.Value / 5:0.#} s.";
        if (e.ChosenAgain is { } again && again < 0.5)
            yield return $"The choice is not firm: only {Share(again)} of {e.Rules.Resamples} resamples of the patients led to the same settings.";
        if (e.Patients is > 1 and < 10)
            yield return $"Intervals from {e.Patients} patients are rather too narrow.";
        yield return "Evidence, not an order: local policy, the prescription and licensed clinicians decide. Nothing is applied by itself.";
    }

    private static IEnumerable<string> Change(GroupEvidence e, CandidateEvidence best)
    {
        if (e.Present is not { } present) yield break;
        if (present.Settings == best.Settings)
        {
            yield return "Nothing to change: the present settings are the best inside the bounds.";
            yield break;
        }

        if (present.Missed > 0 || present.Late > 0)
            yield return $"The present settings miss {present.Missed} and are late for {present.Late} of {Count(present.MustCatchEvents, "must-catch event")}.";
        if (best.Signals >= present.Signals)
        {
            string because = present.IsInsideBounds ? "they do not stand up to the guard rails" : "they lie outside the bounds";
            yield return $"This does not lower the load: {best.SignalsPerDay.Value:0.0} signals a day against {present.SignalsPerDay.Value:0.0} at present. The present settings cannot be kept, because {because}.";
        }
        else if (e.LoadChangePercent is { High: > 0 } change)
            yield return $"The lower load may be chance: a change of {change.Value:0} % with an interval from {change.Low:0} % to {change.High:+0;-0} %.";
    }

    private static IEnumerable<string> Loud(GroupEvidence e)
    {
        if (e.Patients < 2 || e.Contributors.Count == 0) yield break;
        string under = e.Present is null ? "" : " under the present settings";
        var loudest = e.Contributors[0];
        if (loudest.Share > e.Rules.LoudShare)
            yield return $"One patient makes the load: {loudest.Patient} gives {Share(loudest.Share)} of all signals{under} ({loudest.Signals} of {e.Contributors.Sum(c => c.Signals)}).";
        foreach (var left in e.LeavingOneOut.Take(NamedAtMost))
        {
            string without = $"Leaving out one patient changes the answer: without {left.Patient} ({Share(left.ShareOfSignals)} of the signals{under})";
            yield return left.ChosenWithout is { } other
                ? $"{without} the search would choose {other.InWords()}, at {left.SignalsPerDayWithout:0.0} signals a day."
                : $"{without} nothing stands inside the guard rails.";
        }

        if (e.LeavingOneOut.Count > NamedAtMost)
            yield return $"Leaving out any of {e.LeavingOneOut.Count - NamedAtMost} more patients changes the answer too.";
    }
}
