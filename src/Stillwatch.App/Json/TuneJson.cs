using System.Text.Json;
using Stillwatch.App.Jobs;
using Stillwatch.Quantities;
using Stillwatch.Tuning.Map;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Json;

/// <summary><c>tune --json</c>. Map counts are totals over everything monitored, not per day; the outer index is the limit.</summary>
internal static class TuneJson
{
    public static void Write(Utf8JsonWriter json, TuneModel model)
    {
        json.Seconds("averagingSeconds", model.Conditioning.Averaging);
        var source = model.Recordings[0].Loaded.Recording.SourceAveraging;
        bool alike = model.Recordings.All(r => r.Loaded.Recording.SourceAveraging == source);
        json.Seconds("sourceAveragingSeconds", alike ? source.Window : null);
        json.Number("monitoredHours", model.Monitored.Hours);
        json.Number("validHours", model.Map.Valid.Hours);
        json.WriteNumber("patients", model.Patients);
        json.WriteBoolean("patientsAssumed", model.PatientsAssumed);
        json.List("recordings", model.Recordings, r => json.Object(() =>
        {
            json.Source(r.Loaded);
            json.WriteString("channel", r.Evidence.SpO2.Channel.Label);
            json.Definition("mustCatchDefinition", r.Definition);
            json.Issues(r.Loaded.Issues);
        }));
        Maps(json, model.Map);
        MustCatch(json, model);
        json.Object("proposal", () => Proposal(json, model));
        json.List("groups", model.Groups, g => json.Object(() =>
        {
            json.WriteString("group", g.Key.ToString());
            json.Category(g.Category);
            json.Seconds("sourceAveragingSeconds", g.Key.SourceAveraging);
            json.WriteNumber("patients", g.Patients);
            json.Texts("files", g.Recordings.Select(r => r.Loaded.File.Name));
            json.Object("proposal", () => Proposal(json, g));
        }));
        Tally(json, "present", model.Present);
        Tally(json, "settings", model.Given);
        FidelityJson.Write(json, model.Fidelity);
        json.Texts("notComputable", model.NotComputable);
        json.Texts("leftOut", model.Loaded.LeftOut.Select(f => Path.GetFileName(f)));
        json.Unreadable(model.Loaded.Unreadable);
    }

    private static void Maps(Utf8JsonWriter json, SettingsMap map)
    {
        var grid = map.Request.Grid;
        json.Object("map", () =>
        {
            Limits(json, grid);
            json.List("delaysSeconds", grid.Delays, d => json.NumberValue(d.Seconds));
            Cells(json, "signals", map.ByDelay, (p, l, d) => p.Signals[l, d]);
            Cells(json, "signalMinutes", map.ByDelay, (p, l, d) => p.ActiveMilliseconds[l, d] / 60_000.0);
            Cells(json, "missed", map.ByDelay, (p, l, d) => p.Missed[l, d]);
            Cells(json, "late", map.ByDelay, (p, l, d) => p.Late[l, d]);
        });
        json.Object("areaMap", () =>
        {
            Limits(json, grid);
            json.List("areas", grid.Areas, a => json.NumberValue((double)a.Value));
            Cells(json, "signals", map.ByArea, (p, l, a) => p.Signals[l, a]);
            Cells(json, "signalMinutes", map.ByArea, (p, l, a) => p.ActiveMilliseconds[l, a] / 60_000.0);
            Cells(json, "missed", map.ByArea, (p, l, a) => p.Missed[l, a]);
            Cells(json, "late", map.ByArea, (p, l, a) => p.Late[l, a]);
        });
    }

    private static void Limits(Utf8JsonWriter json, MapGrid grid) =>
        json.List("limits", grid.LimitsMicro, l => json.NumberValue(l / (double)FixedPoint.One));

    private static void Cells(Utf8JsonWriter json, string name, MapPlane plane, Func<MapPlane, int, int, double> value)
    {
        json.WriteStartArray(name);
        for (int limit = 0; limit < plane.Signals.GetLength(0); limit++)
        {
            json.WriteStartArray();
            for (int threshold = 0; threshold < plane.Signals.GetLength(1); threshold++)
                json.NumberValue(plane.IsNull(limit, threshold) ? null : value(plane, limit, threshold));
            json.WriteEndArray();
        }

        json.WriteEndArray();
    }

    private static void MustCatch(Utf8JsonWriter json, TuneModel model)
    {
        json.WriteStartArray("mustCatch");
        for (int r = 0; r < model.Recordings.Count; r++)
        {
            var recording = model.Recordings[r];
            for (int i = 0; i < recording.MustCatch.Count; i++)
            {
                var answer = model.Present?.Replays[r].Answers[i];
                json.Event(recording.MustCatch[i], () =>
                {
                    json.WriteString("file", recording.Loaded.File.Name);
                    json.WriteString("patient", recording.Loaded.Patient);
                    if (answer is null) return;
                    json.WriteString("presentVerdict", Shapes.Name(answer.Verdict));
                    json.Seconds("presentSecondsToSignal", answer.TimeToSignal);
                });
            }
        }

        json.WriteEndArray();
    }

    private static void Proposal(Utf8JsonWriter json, TuneModel model)
    {
        if (model.Groups.Count == 1)
        {
            Proposal(json, model.Groups[0]);
            return;
        }

        Evidence(json, null, model.Patients, settingsToo: true);
        json.Texts("refusedBecause", [$"{model.Groups.Count} groups of patients that may not be pooled (R14.7): see groups, where each has its own proposal or refusal"]);
        json.Texts("caveats", model.Groups.SelectMany(g => Assumptions.Of(g.Category, model.Recordings)).Distinct());
        json.WriteNull("lookedAt");
        json.WriteNull("present");
    }

    /// <summary>A refused proposal has no settings; its figures are then those of the best candidate looked at.</summary>
    private static void Proposal(Utf8JsonWriter json, TunedGroup group)
    {
        var proposal = group.Search.Proposal;
        if (proposal.Chosen is null) json.WriteNull("settings");
        Evidence(json, proposal.Chosen ?? proposal.Best, group.Patients, settingsToo: proposal.Chosen is not null);
        json.Texts("refusedBecause", proposal.RefusedBecause);
        json.Texts("caveats", proposal.Caveats);
        ForReviewers(json, proposal);
        Candidate(json, "lookedAt", proposal.Best, group.Patients);
        Candidate(json, "present", proposal.Present, group.Patients);
    }

    /// <summary>R14.2 and R14.10: what a person should look at. The stretches say nothing of any alarm.</summary>
    private static void ForReviewers(Utf8JsonWriter json, Proposal proposal)
    {
        json.List("signalledEarlier", proposal.SignalledEarlier, e => json.Object(() =>
        {
            json.WriteString("patient", e.Patient);
            json.WriteString("file", e.Recording);
            json.Seconds("startSeconds", e.Onset);
            json.Seconds("endSeconds", e.End);
            json.Seconds("presentSecondsToSignal", e.Present);
            json.Seconds("secondsToSignal", e.Proposed);
            json.Seconds("secondsLost", e.Lost);
        }));
        json.Number("shareNotReviewed", proposal.BlindSample?.ShareNotReviewed);
        json.List("toReviewWithoutAlarms", proposal.BlindSample?.Drawn, s => json.Object(() =>
        {
            json.WriteString("patient", s.Patient);
            json.WriteString("file", s.Recording);
            json.Seconds("startSeconds", s.Slice.Start);
            json.Seconds("endSeconds", s.Slice.End);
        }));
    }

    /// <summary>What the evidence says of one candidate, with its settings; null where there is none.</summary>
    public static void Candidate(Utf8JsonWriter json, string name, CandidateEvidence? evidence, int patients)
    {
        if (evidence is null) json.WriteNull(name);
        else json.Object(name, () => Evidence(json, evidence, patients, settingsToo: true));
    }

    private static void Evidence(Utf8JsonWriter json, CandidateEvidence? e, int patients, bool settingsToo)
    {
        if (settingsToo) Settings(json, e?.Settings);
        json.Number("load", e?.SignalsPerDay.Value);
        // One patient cannot be resampled.
        var interval = patients > 1 && e?.SignalsPerDay is { Low: { } low, High: { } high } ? new[] { low, high } : null;
        json.List("loadInterval", interval, end => json.NumberValue(end));
        json.Number("signalMinutesPerDay", e?.SignalMinutesPerDay);
        json.Number("technicalPerDay", e?.TechnicalSignalsPerDay.Value);
        json.Number("mustCatchEvents", e?.MustCatchEvents);
        json.Number("missed", e?.Missed);
        json.Number("missedUpperBound", e?.MissedUpperBoundEvents);
        json.Number("missedUpperBoundPatients", e?.MissedUpperBoundPatients);
        json.Number("late", e?.Late);
        json.Seconds("worstSecondsToSignal", e?.WorstTimeToSignal);
        json.Seconds("medianSecondsToSignal", e?.MedianTimeToSignal);
    }

    private static void Settings(Utf8JsonWriter json, CandidateSettings? settings)
    {
        if (settings is null)
        {
            json.WriteNull("settings");
            return;
        }

        json.Object("settings", () =>
        {
            json.Limit("spo2Low", settings.SpO2Low);
            json.Backstop(settings.Backstop);
            json.Seconds("averagingSeconds", settings.Averaging);
        });
    }

    public static void Tally(Utf8JsonWriter json, string name, SettingsTally? tally)
    {
        if (tally is null)
        {
            json.WriteNull(name);
            return;
        }

        json.Object(name, () =>
        {
            json.List("sets", tally.Sets, set => json.Object(() =>
            {
                json.WriteString("name", set.Name);
                json.WriteString("category", set.Category);
                json.SettingsBody(set.Settings);
            }));
            json.WriteNumber("signals", tally.Load.Physiological.Signals);
            json.Number("signalMinutes", tally.Load.Physiological.Active.Minutes);
            json.Number("load", tally.Load.Physiological.SignalsPerDay);
            json.WriteNumber("technicalSignals", tally.Load.Technical.Signals);
            json.Number("technicalLoad", tally.Load.Technical.SignalsPerDay);
            json.WriteNumber("missed", tally.Missed);
            json.WriteNumber("late", tally.Late);
            json.Seconds("worstSecondsToSignal", tally.WorstTimeToSignal);
        });
    }
}
