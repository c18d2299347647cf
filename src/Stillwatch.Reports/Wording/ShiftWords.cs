using Stillwatch.Alarms;
using Stillwatch.Oxygenation;
using Stillwatch.Reports.Model;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Reports.Wording;

/// <summary>What a shift summary says of a patient: in sentences on the patient's own page, in a few words on the ward's.</summary>
public static class ShiftWords
{
    /// <summary>More times of day than these are no longer read.</summary>
    private const int TimesAtMost = 8;

    /// <summary>A valid SpO2 in less of the time leaves too much unknown. Unit policy, no source.</summary>
    private const double LeastCoverage = 0.8;

    /// <summary>Minutes an hour below 90 % from which burden is worth a word though it does not rise. Unit policy, no source.</summary>
    private const double WorthAWord = 3;

    /// <summary>"68 must-catch events; 0 changes of settings; 12 things pending".</summary>
    public static string InBrief(ShiftSummaryModel model) =>
        $"{Words.Count(model.Patients.Sum(p => p.Recording?.MustCatch.Count ?? 0), "must-catch event")}; {Words.Count(model.Patients.Sum(p => p.Changed.Count), "change")} of settings; "
        + $"{Words.Count(model.Patients.Sum(p => p.Pending.Count), "thing")} pending";

    /// <summary>Category and prescribed range, or that none is known; of the unit itself what it is about.</summary>
    public static string About(ShiftPatient patient) =>
        patient.IsWholeUnit ? patient.About : $"{patient.About}; {(patient.Prescribed is { } range ? $"prescribed {range}" : "no prescribed range known")}";

    /// <summary>What happened besides what <see cref="Answers.WhatHappened"/> says, a sentence each.</summary>
    public static IReadOnlyList<string> Happened(ShiftPatient patient)
    {
        var said = new List<string>();
        if (patient.Recording is { } recording)
        {
            if (recording.MustCatch.Count > 0)
            {
                var clock = new Clock(recording.Recording.Start);
                string more = recording.MustCatch.Count > TimesAtMost ? $" and {recording.MustCatch.Count - TimesAtMost} more" : "";
                said.Add($"{Words.Count(recording.MustCatch.Count, "must-catch event")}, the lowest {Words.Saturation(recording.MustCatch.Min(m => m.Event.Nadir))}: "
                    + $"{string.Join(", ", recording.MustCatch.Take(TimesAtMost).Select(m => clock.At(m.Event.Onset)))}{more}.");
            }

            if (recording.PresentSignals is { } signals)
                said.Add($"The settings in force would have given {Words.Count(signals.Count(s => s.Condition.IsPhysiological()), "physiological signal")} and {signals.Count(s => !s.Condition.IsPhysiological())} technical.");
            if (recording.Review is { } review && review.Coverage < LeastCoverage) said.Add($"Only {Words.Share(review.Coverage)} of the time has a valid SpO2: what happened in the rest is not known.");
        }

        return [.. said, .. patient.Happened];
    }

    /// <summary>What to watch, a sentence each.</summary>
    public static IReadOnlyList<string> Watch(ShiftPatient patient)
    {
        var said = new List<string>();
        if (Burden(patient) is { IsRising: true } rising) said.Add($"Rising burden: {rising.Words}.");
        else if (Burden(patient) is { After: >= WorthAWord } burden) said.Add($"Burden: {burden.Words}.");
        if (Missed(patient) is > 0 and var missed) said.Add($"{Words.Count(missed, "must-catch event")} would not have been signalled under the settings in force.");
        return [.. said, .. patient.Watch];
    }

    /// <summary>The same in a few words, each with its end: for a line of a ward.</summary>
    public static IReadOnlyList<string> WatchBriefly(ShiftPatient patient)
    {
        var said = new List<string>();
        if (Burden(patient) is { } burden && (burden.IsRising || burden.After >= WorthAWord))
            said.Add($"{(burden.IsRising ? "Rising burden" : "Burden")}: {Words.Number(burden.After, 1)} min an hour, {Words.Number(burden.Before, 1)} before.");
        if (Missed(patient) is > 0 and var missed) said.Add($"{missed} must-catch not signalled.");
        return [.. said, .. patient.Watch];
    }

    /// <summary>Null: nothing was recorded, or too little.</summary>
    public static BurdenTrend? Burden(ShiftPatient patient) => patient.Recording?.Review is { } review ? BurdenTrend.Of(review.Hours, BurdenTrend.Usual) : null;

    private static int Missed(ShiftPatient patient) => patient.Recording?.MustCatch.Count(m => m.Present?.Verdict == CatchVerdict.Missed) ?? 0;
}
