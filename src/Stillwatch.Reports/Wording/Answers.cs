using Stillwatch.Alarms;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Plots;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Wording;

/// <summary>The answers a reader came for, in one or two plain sentences each.</summary>
public static class Answers
{
    /// <summary>What happened in the recordings.</summary>
    public static string WhatHappened(ReportModel model) => model.Recordings.Count switch
    {
        0 => "No recording could be read, so nothing can be said.",
        1 => OfOne(model.Recordings[0]),
        _ => OfMany(model),
    };

    /// <summary>What the present settings gave, and what the proposed ones would give on the same recordings.</summary>
    public static string WhatWouldChange(SettingsSection section) =>
        PresentAndProposed(section) + string.Concat(section.AskedAbout.Select(a =>
            $" The settings “{a.Name}” ({SettingsWords.Low(a.Evidence.Settings.SpO2Low)}) would give {Load(a.Evidence)} and {Caught(a.Evidence)}{Slowest(a.Evidence)}."));

    private static string PresentAndProposed(SettingsSection section)
    {
        if (section.Proposal is not { } proposal) return "No search for other settings was made.";
        if (proposal.Present is not { } present)
        {
            return proposal.Chosen is { } alone
                ? $"No present settings were given to compare with. The proposed settings would give {Load(alone)} and {Caught(alone)}."
                : "No present settings were given, and none are proposed.";
        }

        string now = $"On these recordings the present settings ({SettingsWords.Low(present.Settings.SpO2Low)}) give {Load(present)} and {Caught(present)}.";
        if (proposal.Chosen is not { } chosen) return now;
        return $"{now} The proposed settings would give {Load(chosen)}{Change(present, chosen)} and {Caught(chosen)}{Slowest(chosen)}.";
    }

    /// <summary>The proposal in a sentence, or that there is none.</summary>
    public static string WhatIsProposed(SettingsSection section)
    {
        if (section.Proposal is not { } proposal) return "Nothing is proposed.";
        return proposal.Chosen is { } chosen && !proposal.IsRefused
            ? $"{SettingsWords.Full(chosen.Settings)}."
            : "No other settings are proposed. These recordings do not support a change.";
    }

    private static string OfOne(RecordingSection section)
    {
        if (section.SpO2 is not { } spO2) return "The recording has no SpO2, so there is nothing to look back over.";
        if (section.Review is not { } review || spO2.Valid <= Duration.Zero)
            return $"The recording runs for {Words.Span(spO2.Connected)} and holds no valid SpO2 value, so nothing can be said about oxygenation.";
        var clock = new Clock(section.Recording.Start);
        string text = $"In {Words.Span(review.Monitored)} of recording, {Words.Span(review.Valid)} ({Words.Share(review.Coverage)}) had a valid SpO2. ";
        text += Below(review.Exposure.Below);
        if (review.Exposure.Minimum is { } minimum) text += $", lowest {Words.Saturation(minimum)}{When(section, minimum, clock)}";
        text += ". ";
        if (review.Events is { } events) text += $"There {(events.Count == 1 ? "was" : "were")} {Words.Count(events.Count, "fall")} of 3 points or more";
        else text += "Falls could not be counted";
        text += section.MustCatch.Count == 0 ? " and no must-catch event." : $" and {Words.Count(section.MustCatch.Count, "must-catch event")}, the kind that no settings are allowed to miss.";
        return text;
    }

    private static string OfMany(ReportModel model)
    {
        var reviews = model.Recordings.Where(r => r.Review is not null).Select(r => r.Review!).ToList();
        var monitored = reviews.Aggregate(Duration.Zero, (sum, r) => sum + r.Monitored);
        var valid = reviews.Aggregate(Duration.Zero, (sum, r) => sum + r.Valid);
        int patients = model.Ward?.Patients.Count ?? model.Settings.Sum(s => s.Patients);
        string text = $"{Words.Count(model.Recordings.Count, "recording")}{(patients > 0 ? $" of {Words.Count(patients, "patient")}" : "")} hold {Words.Span(monitored)}, of which {Words.Span(valid)}"
            + $" ({Words.Share(monitored > Duration.Zero ? valid.Seconds / monitored.Seconds : 0)}) had a valid SpO2. ";
        int mustCatch = model.Recordings.Sum(r => r.MustCatch.Count), with = model.Recordings.Count(r => r.MustCatch.Count > 0);
        text += mustCatch == 0 ? "There was no must-catch event." : $"There {(mustCatch == 1 ? "was" : "were")} {Words.Count(mustCatch, "must-catch event")} {(with == model.Recordings.Count ? "with at least one in every recording" : $"in {Words.Count(with, "recording")}")}.";
        if (model.Ward is { PresentSignalsPerDay: { } load } ward)
        {
            text += $" The {ward.SettingsInWords} give {Words.RateWords(load)} physiological signals per patient-day";
            text += Concentration(ward) + ".";
        }

        return text;
    }

    /// <summary>", half of them from 2 of 12 patients": only said where it is telling.</summary>
    private static string Concentration(WardSection ward)
    {
        long all = ward.Patients.Sum(p => p.PresentSignals ?? 0), sum = 0;
        int count = 0;
        foreach (var patient in ward.Patients.OrderByDescending(p => p.PresentSignals ?? 0))
        {
            if (2 * sum >= all) break;
            sum += patient.PresentSignals ?? 0;
            count++;
        }

        return all < 10 || count * 3 > ward.Patients.Count ? "" : $"; {(count == 1 ? "one patient causes" : $"{count} of the {ward.Patients.Count} patients cause")} half of them or more";
    }

    private static string Below(IReadOnlyList<Oxygenation.TimeBelow> below)
    {
        if (below.Count == 0) return "SpO2 was looked at";
        var first = below[0];
        return first.Time <= Duration.Zero
            ? $"SpO2 was never below {Words.Saturation(first.Level)}"
            : $"SpO2 was below {Words.Saturation(first.Level)} for {Words.Span(first.Time)} ({Words.Share(first.PercentOfValid / 100)} of the valid time)";
    }

    private static string When(RecordingSection section, double minimum, Clock clock)
    {
        var pieces = section.SpO2!.Pieces;
        for (int i = 0; i < pieces.Count; i++)
            if (Math.Abs(pieces[i].Micro / 1e6 - minimum) < 1e-6) return $" at {clock.At(pieces[i].Start)}";
        return "";
    }

    private static string Load(CandidateEvidence evidence) => $"{Words.RateWords(evidence.SignalsPerDay.Value)} signals per patient-day ({Words.Span(new Duration((long)(evidence.SignalMinutesPerDay * 60_000)))} of signal a day)";

    private static string Caught(CandidateEvidence evidence)
    {
        if (evidence.MustCatchEvents == 0) return "there is no must-catch event to test them on";
        string of = $"{Words.Count(evidence.MustCatchEvents, "must-catch event")}";
        if (evidence.Missed == 0 && evidence.Late == 0) return evidence.MustCatchEvents == 1 ? "signal the one must-catch event in time" : $"signal all {of} in time";
        string late = evidence.Late > 0 ? $"signal {evidence.Late} of them late" : "";
        string missed = evidence.Missed > 0 ? $"miss {evidence.Missed}" : "miss none";
        return $"of {of} {missed}{(late.Length > 0 ? " and " + late : "")}";
    }

    private static string Change(CandidateEvidence present, CandidateEvidence chosen)
    {
        if (present.SignalsPerDay.Value <= 0) return "";
        double change = (chosen.SignalsPerDay.Value / present.SignalsPerDay.Value - 1) * 100;
        return Math.Abs(change) < 0.5 ? ", no fewer" : $", {Words.Number(Math.Abs(change), 0)}\u00a0% {(change < 0 ? "fewer" : "more")},";
    }

    private static string Slowest(CandidateEvidence chosen) =>
        chosen.WorstTimeToSignal is { } worst ? $"; the slowest signal comes {Words.Span(worst)} after the event begins" : "";
}
