using Stillwatch.App.Jobs;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Pages;

/// <summary>"Which settings would have kept every must-catch event with the fewest signals?"</summary>
internal static class TunePage
{
    private const int EventsShown = 15;

    public static void Write(Page page, TuneModel model, string? report)
    {
        page.Question("Which settings would have kept every must-catch event, with the fewest signals?");
        page.Subject(Subject(model));
        SetNotes.Write(page, model.Loaded, model.NotComputable);
        page.Answer(Answer(model));
        foreach (var group in model.Groups) Group(page, group, model.Groups.Count > 1);
        ReadingDoubts.Write(page, model.Recordings);
        MustCatch(page, model);
        Map(page, model);
        if (model.Present is { } now) EvidenceTable.Tally(page, "The present settings, replayed", now);
        if (model.Fidelity is { } fidelity) FidelityTable.Write(page, fidelity);
        if (model.LogNotCompared is { } why) page.Text(why);
        if (model.Given is { } given) EvidenceTable.Tally(page, "The settings of --settings, replayed", given);
        page.Heading("How this was counted");
        foreach (var group in model.Groups)
        {
            var first = group.Recordings[0];
            page.Note($"{group.Category.Words}: must-catch is {Say.Definition(first.Definition)}. {Say.Conditioning(model.Conditioning, first.Loaded.Recording.SourceAveraging, first.Evidence.SpO2.Channel.Times.Period)}");
        }

        page.Note("In time: a signal is active at some instant from onset to onset + T. Late: first active after that. Missed: never (R13). A signal counts once, at its start, in an unattended run without latching (R12). \"Up to\" is the exact one-sided 95 % bound.");
        page.Report(report);
        page.Caution();
    }

    /// <summary>The map of the largest group, which is all where there is one only.</summary>
    public static void Map(Page page, TuneModel model)
    {
        var largest = model.Groups.OrderByDescending(g => g.Map.Valid).First();
        var proposal = largest.Search.Proposal;
        string whose = model.Groups.Count > 1 ? $"{Say.Group(largest.Key, largest.Category.IsAssumed)}, the largest group" : Say.Length(largest.Map.Connected);
        SettingsMapTable.Write(page, whose, largest.Map, proposal.Present?.Settings.SpO2Low, proposal.Chosen?.Settings.SpO2Low);
    }

    private static string Subject(TuneModel model)
    {
        string what = model.Recordings.Count == 1 ? model.Recordings[0].Loaded.File.Name : Say.Count(model.Recordings.Count, "recording", "recordings");
        return $"{what} · {Say.Count(model.Patients, "patient", "patients")} · {Say.Length(model.Monitored)} monitored, {Say.Length(model.Map.Valid)} with a value · {Say.Count(model.Map.MustCatchEvents, "must-catch event", "must-catch events")}";
    }

    public static string Answer(TuneModel model)
    {
        int proposed = model.Groups.Count(g => !g.Search.Proposal.IsRefused);
        if (model.Groups.Count > 1)
            return $"{model.Groups.Count} groups that may not be pooled (R14.7): a proposal for {proposed}, refused for {model.Groups.Count - proposed}. Nothing is ever applied by itself.";
        return AnswerFor(model.Groups[0].Search.Proposal);
    }

    /// <param name="proposal">Made or refused.</param>
    /// <param name="reasonsFollow">Whether the page lists the reasons of a refusal; otherwise the first is said here.</param>
    public static string AnswerFor(Proposal proposal, bool reasonsFollow = true)
    {
        if (proposal.IsRefused && !reasonsFollow) return $"No proposal. {proposal.RefusedBecause[0]}";
        if (proposal.IsRefused) return $"No proposal is made, for {Say.Count(proposal.RefusedBecause.Count, "reason", "reasons")} given below.";
        var chosen = proposal.Chosen!;
        string now = proposal.Present is { } p ? $" in place of {p.SignalsPerDay.Value:0.0} now" : string.Empty;
        return $"Proposed, for a person to accept or not: SpO2 {Say.Candidate(chosen.Settings)}. {chosen.SignalsPerDay.Value:0.0} signals a patient-day{now}; "
            + $"{chosen.Missed} of {chosen.MustCatchEvents} must-catch events missed, {chosen.Late} late.";
    }

    private static void Group(Page page, TunedGroup group, bool named)
    {
        var proposal = group.Search.Proposal;
        if (named)
        {
            page.Heading(Say.Group(group.Key, group.Category.IsAssumed));
            page.Text($"{Say.Count(group.Patients, "patient", "patients")}, {Say.Count(group.Recordings.Count, "recording", "recordings")}. {AnswerFor(proposal)}");
        }

        if (proposal.IsRefused)
        {
            if (!named) page.Heading("Why no proposal is made");
            foreach (string reason in proposal.RefusedBecause) page.Bullet(reason);
        }

        Evidence(page, group, named ? null : "The evidence");
        foreach (string caveat in proposal.Caveats) page.Bullet(caveat);
    }

    /// <summary>Present and proposed side by side.</summary>
    public static void Evidence(Page page, TunedGroup group, string? heading)
    {
        var proposal = group.Search.Proposal;
        var columns = new List<(string, CandidateEvidence)>();
        if (proposal.Present is { } present) columns.Add(("Present", present));
        if (proposal.Chosen is { } chosen) columns.Add(("Proposed", chosen));
        else if (proposal.Best is { } best) columns.Add(("Looked at, not proposed", best));
        if (columns.Count == 0) return;
        if (heading is not null) page.Heading(heading);
        page.Show(EvidenceTable.Of(columns, group.Patients));
    }

    private static void MustCatch(Page page, TuneModel model)
    {
        var events = model.Recordings.SelectMany((r, number) => r.MustCatch.Select((e, i) => (Recording: r, Event: e, Answer: model.Present?.Replays[number].Answers[i]))).ToList();
        foreach (string words in model.Recordings.SelectMany(r => r.MarkWords).Distinct()) page.Text(words);
        if (events.Count == 0)
        {
            page.Heading("No must-catch event in what was monitored");
            return;
        }

        bool several = model.Recordings.Count > 1, hasPresent = model.Present is not null;
        page.Heading(events.Count > EventsShown ? $"Must-catch events, the {EventsShown} lowest of {events.Count}" : "Must-catch events");
        List<(string, bool)> columns = [("Onset", true), ("Lasted", true), ("Nadir", true), ("Because", false)];
        if (several) columns.Insert(0, ("Recording", false));
        if (hasPresent) columns.Add(("At present", false));
        var table = Page.TableOf([.. columns]);
        table.Columns[0].NoWrap = true; // a file's name is read whole or not at all
        foreach (var (recording, e, answer) in events.OrderBy(x => x.Event.Nadir).Take(EventsShown))
        {
            List<string> cells = [recording.Loaded.Recording.Start.ClockAt(e.Onset), Say.Length(e.End - e.Onset), $"{e.Nadir.Value:0.#} %", string.Join("; ", e.Parts.Select(p => p.Because).Distinct())];
            if (several) cells.Insert(0, recording.Loaded.File.Name);
            if (hasPresent) cells.Add(Say.Answer(answer!));
            Page.Row(table, [.. cells]);
        }

        page.Show(table);
    }
}
