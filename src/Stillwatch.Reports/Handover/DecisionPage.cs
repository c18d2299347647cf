using Stillwatch.Reports.Model;
using Stillwatch.Reports.Page;
using Stillwatch.Reports.Plots;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Handover;

/// <summary>The page of a settings decision.</summary>
internal static class DecisionPage
{
    public static List<Block> Compose(DecisionModel model)
    {
        var section = model.Evidence;
        var blocks = new List<Block>();
        if (section.IsCategoryAssumed) blocks.Add(new Block.Warning("Category not given: an adult was assumed. Not to be used for a child, a neonate or a patient with a lower prescribed target."));
        blocks.Add(new Block.Lead(model.Decided is { } decided
            ? $"{(model.AcceptedBy is null ? "For discussion" : "Decided")}: {SettingsWords.Full(decided.Settings)}."
            : $"{(model.AcceptedBy is null ? "For discussion" : "Decided")}: no change of settings."));
        if (DecisionChecks.Warning(model) is { } warning) blocks.Add(new Block.Warning(warning));
        if (model.Why.Length > 0) blocks.Add(new Block.Prose($"Why: {model.Why}"));
        blocks.Add(new Block.Prose(Accepted(model)));
        if (model.AcceptedBy is null) blocks.Add(new Block.ToSign(["Accepted by", "Date", "Holds until"]));
        blocks.Add(new Block.Heading("The evidence"));
        blocks.Add(new Block.Prose($"{Words.Count(section.Recordings, "recording")} of {Words.Count(section.Patients, "patient")} ({Reasons.Plain(section.Group).TrimEnd('.')}); {Words.Span(section.Valid)} of valid time of {Words.Span(section.Connected)} connected ({Words.Share(section.Connected > Duration.Zero ? section.Valid.Seconds / section.Connected.Seconds : 0)})."));
        blocks.Add(Compared(model));
        // Two tables of checks need the room of the figure, whose numbers stand in the table above.
        bool isFigureApart = DecisionChecks.AreApart(model);
        if (!isFigureApart) AddLoads(blocks, section);
        blocks.Add(new Block.Heading("What speaks for and against it"));
        blocks.AddRange(DecisionChecks.Compose(model));
        blocks.Add(new Block.Heading("How these numbers were made"));
        blocks.Add(new Block.Fine($"Averaging: by the monitor {section.SourceAveraging}; ours {Words.Averaging(section.MapByDelay?.Conditioning.Averaging ?? model.Decided?.Settings.Averaging ?? Duration.Zero)}. "
            + $"A must-catch event here is SpO2 {string.Join(", or ", section.MustCatch.Lines.Select(Words.Of))}{(section.MustCatch.Source.Length > 0 ? $" ({section.MustCatch.Source})" : "")}."
            + ($" {(section.Proposal is { Method.Length: > 0 } made ? Reasons.Plain(made.Method) : "Signals per patient-day are physiological signals per 24 h of valid time, pooled per patient.")}")));
        blocks.AddRange(HandoverWords.Origin(model.Provenance));
        if (model.WithMap && isFigureApart) AddLoads(blocks, section);
        if (model.WithMap && section.MapByDelay is { } map)
        {
            blocks.Add(new Block.Heading("The settings map"));
            blocks.Add(new Block.Drawn(Pictures.SettingsMap(map, section.Proposal, "map", section.AskedAbout), "Each cell is one low limit with one delay. The darker, the more signals; hatched: a must-catch event is missed."));
        }

        return blocks;
    }

    private static void AddLoads(List<Block> blocks, SettingsSection section)
    {
        if (SettingsPart.LoadsOf(section).Count > 1) // one bar compares with nothing
            blocks.Add(new Block.Drawn(Pictures.Loads(SettingsPart.LoadsOf(section), "loads"), "Physiological signals per patient-day; the thin bracket is the interval.", 0.66));
    }

    private static string Accepted(DecisionModel model)
    {
        string until = model.Until is { } end ? $"It holds until {end}; then it has to be looked at again." : "No end was named.";
        return model.AcceptedBy is { } by
            ? $"Accepted by {by}{(model.AcceptedOn is { } on ? $" on {on}" : "")}. {until} Nothing has been changed on any monitor by this page."
            : $"Nobody has accepted it yet.{(model.Until is { } wished ? $" It would hold until {wished}." : "")} It changes nothing by itself.";
    }

    private static Block.Grid Compared(DecisionModel model)
    {
        var proposal = model.Evidence.Proposal;
        var columns = new List<(string Name, CandidateEvidence Of)>();
        void Add(string name, CandidateEvidence? of)
        {
            if (of is not null && !columns.Exists(c => ReferenceEquals(c.Of, of))) columns.Add((name, of));
        }

        Add("Present", proposal?.Present);
        string decided = model.AcceptedBy is null ? "For discussion" : "Decided";
        Add(model.DecidedName is { } own ? $"{decided}: {SettingsWords.Quoted(own)}" : decided, model.Decided);
        if (proposal is { Chosen: { } chosen, IsRefused: false }) Add("Proposed", chosen);
        foreach (var asked in model.Evidence.AskedAbout.Take(2)) Add(SettingsWords.Quoted(asked.Name), asked.Evidence);
        IReadOnlyList<string> Row(string name, Func<CandidateEvidence, string> value) => [name, .. columns.Select(c => value(c.Of))];
        return new Block.Grid("On these recordings", ["", .. columns.Select(c => c.Name)],
        [
            Row("Settings", e => SettingsWords.Full(e.Settings)),
            Row("Signals per patient-day (interval)", e => Words.RateWords(e.SignalsPerDay.Value) + (LoadPlot.HasInterval(e.SignalsPerDay) ? $" ({Words.Rate(e.SignalsPerDay.Low!.Value)} to {Words.Rate(e.SignalsPerDay.High!.Value)})" : " (no interval)")),
            Row("Minutes of signal per patient-day", e => Words.Number(e.SignalMinutesPerDay, 1)),
            Row("Technical signals per day connected", e => Words.RateWords(e.TechnicalSignalsPerDay.Value)),
            Row("Must-catch events", e => e.MustCatchEvents == 0 ? "none" : $"{Words.Number(e.MustCatchEvents - e.Missed - e.Late, 0)} in time, {Words.Number(e.Late, 0)} late, {Words.Number(e.Missed, 0)} missed"),
            Row("Time to signal, median and slowest", e => $"{(e.MedianTimeToSignal is { } m ? Words.Span(m) : "–")}; {(e.WorstTimeToSignal is { } w ? Words.Span(w) : "–")}"),
            Row("Could still be missed, of such events", e => e.MustCatchEvents == 0 ? "cannot be said" : $"up to {Words.Share(e.MissedUpperBoundEvents)}"),
        ], columns.Count + 1);
    }
}
