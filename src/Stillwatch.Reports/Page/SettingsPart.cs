using Stillwatch.Reports.Model;
using Stillwatch.Reports.Plots;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Page;

/// <summary>The evidence about settings for one group: loads, maps, front, the ten checks.</summary>
internal sealed class SettingsPart(HtmlText html, SettingsSection section, int number, bool saysVerdict)
{
    public void Write()
    {
        if (saysVerdict) Verdict();
        html.Paragraph($"{(saysVerdict ? $"{Reasons.Plain(section.Group)} " : "")}{Words.Count(section.Recordings, "recording")} of {Words.Count(section.Patients, "patient")}; {Words.Span(section.Valid)} of valid time, {Words.Span(section.Connected)} connected. "
            + $"Averaging by the monitor: {section.SourceAveraging}. A must-catch event here is SpO2 {string.Join(", or ", section.MustCatch.Lines.Select(Words.Of))}{(section.MustCatch.Source.Length > 0 ? $" ({section.MustCatch.Source})" : "")}.");
        var loads = LoadsOf(section);
        html.Figure("Alarm load before and after", $"Physiological signals per patient-day on these recordings.{(loads.Any(l => LoadPlot.HasInterval(l.SignalsPerDay)) ? " The thin bracket is the interval." : "")} Less is quieter; whether it is safe stands in the next figures.{ScaledUp()}",
            Figures.Loads(loads, $"s{number}-loads"), () => Loads(loads));
        Map(section.MapByDelay, "Settings map: limit and delay", "Each cell is one low limit with one delay. The darker, the more signals. Where it is hatched, those settings miss a must-catch event. A signal that hardly ever ends counts as one, so striped cells are not quiet.", $"s{number}-delay");
        Map(section.MapByArea, "Settings map: limit and area threshold", "The same with an area threshold instead of a delay: a deep fall then signals sooner than a shallow one.", $"s{number}-area");
        html.Figure("Quiet against time to signal", $"Each dot is a settings set that no other one beats: further left is quieter, further down is quicker to signal. Open dots lie outside the unit’s bounds. None of them misses a must-catch event.{(section.Proposal is { Chosen: not null, IsRefused: false } ? " The proposal may lie off the line, because it has to pass the other checks too." : " None of them is proposed by standing here.")}",
            Figures.Front(section, $"s{number}-front"), Front);
        if (section.Proposal is { } proposal) Evidence(proposal);
    }

    private string ScaledUp() => section.Valid > Duration.Zero && section.Valid < MapPicture.ShortestForRates
        ? $" These recordings hold only {Words.Span(section.Valid)}: one signal in them stands for {Words.RateWords(24 / section.Valid.Hours)} a day."
        : "";

    private void Verdict()
    {
        html.Paragraph(Answers.WhatWouldChange(section));
        if (section.Proposal is not { } proposal) return;
        using (html.Element("p"))
            html.Leaf("strong", (proposal.IsRefused ? "" : "Proposed: ") + Answers.WhatIsProposed(section));
        if (proposal.IsRefused) html.List(proposal.RefusedBecause.Select(Reasons.Plain));
        if (proposal.Caveats.Count == 0) return;
        html.Paragraph(proposal.IsRefused ? "Besides, to know:" : "To know:");
        html.List(proposal.Caveats.Select(Reasons.Plain));
    }

    /// <summary>The rows given, or those that the proposal holds.</summary>
    public static IReadOnlyList<LoadRow> LoadsOf(SettingsSection section)
    {
        if (section.Loads.Count > 0 || section.Proposal is not { } proposal) return section.Loads;
        var rows = new List<LoadRow>();
        void Add(string label, CandidateEvidence? evidence, bool isAskedAbout = false)
        {
            if (evidence is not null)
                rows.Add(new LoadRow(label, SettingsWords.Low(evidence.Settings.SpO2Low), evidence.SignalsPerDay, evidence.SignalMinutesPerDay, evidence.TechnicalSignalsPerDay.Value, isAskedAbout));
        }

        Add("Present settings", proposal.Present);
        foreach (var asked in section.AskedAbout) Add($"Settings {SettingsWords.Quoted(asked.Name)}", asked.Evidence, isAskedAbout: true);
        if (proposal is { Chosen: { } chosen, IsRefused: false })
        {
            Add("Proposed settings", chosen);
            if (proposal.HeldOut is { } check && double.IsFinite(check.HeldOutSignalsPerDay))
                rows.Add(new LoadRow("Proposed, held-out patients", "searched without the patients it is tried on", new Estimate(check.HeldOutSignalsPerDay, null, null)));
        }

        return rows;
    }

    private void Loads(IReadOnlyList<LoadRow> rows) => html.Table("Alarm load",
        ["Settings", "In words", "Signals per patient-day (valid)", "Interval", "Minutes of signal per patient-day", "Technical signals per day connected"],
        rows.Select(r => (IReadOnlyList<string>)
        [
            r.Label, r.Settings, Words.RateWords(r.SignalsPerDay.Value),
            LoadPlot.HasInterval(r.SignalsPerDay) ? $"{Words.Rate(r.SignalsPerDay.Low!.Value)} to {Words.Rate(r.SignalsPerDay.High!.Value)}" : "–",
            r.SignalMinutesPerDay is { } minutes ? Words.Number(minutes, 1) : "–", r.TechnicalPerDay is { } technical ? Words.RateWords(technical) : "–",
        ]), 2);

    private void Map(MapPicture? picture, string heading, string explanation, string id)
    {
        if (picture is null) return;
        string number = picture.CountsInAll
            ? $"The number is the signals in all: {Words.Span(picture.Valid)} are too few to speak of signals per patient-day."
            : "The number is signals per patient-day.";
        html.Figure(heading, $"{explanation} {number} {Conditions(picture)}", Figures.SettingsMap(picture, section.Proposal, id, section.AskedAbout), () => MapTable(picture));
        foreach (var mark in MapMark.Of(section.Proposal, section.AskedAbout))
            if (mark.Remark(picture) is { } remark) html.Paragraph(remark, "note");
    }

    private static string Conditions(MapPicture picture) =>
        $"Drawn for {Words.Span(picture.Valid)} of valid time with {Words.Count(picture.MustCatchEvents, "must-catch event")}; {(picture.Conditioning.Averaging > Duration.Zero ? $"averaging of ours {Words.Span(picture.Conditioning.Averaging)}" : "no averaging of ours")}, {(picture.ClearMargin.Micro > 0 ? $"clear margin {Words.Points(picture.ClearMargin)}" : "no clear margin")}, {(picture.Backstop is { } b ? SettingsWords.Backstop(b) : "no backstop")}.";

    private void MapTable(MapPicture picture)
    {
        int[] columns = [.. Thinned(picture.Thresholds.Count, 13)];
        int[] rows = [.. Enumerable.Range(0, picture.Limits.Count).Reverse()];
        string unit = picture.Threshold == MapThreshold.Delay ? "s" : "%·s";
        html.Table($"{char.ToUpperInvariant(picture.Counted[0])}{picture.Counted[1..]}; m: with that many must-catch events missed, l: late; –: not possible",
            ["Low limit", .. columns.Select(c => $"{Words.Number(picture.Thresholds[c], 0)}\u00a0{unit}")],
            rows.Select(r => (IReadOnlyList<string>)[Words.Saturation(picture.Limits[r]), .. columns.Select(c => Cell(picture, r, c))]));
    }

    private static string Cell(MapPicture picture, int row, int column)
    {
        if (picture.Load(row, column) is not { } load) return "–";
        string text = picture.InNumbers(load);
        if (picture.Plane.Missed[row, column] is > 0 and var missed) text += $" m{missed}";
        if (picture.Plane.Late[row, column] is > 0 and var late) text += $" l{late}";
        return text;
    }

    // More room for the short delays, where settings are really chosen.
    private static IEnumerable<int> Thinned(int count, int atMost)
    {
        if (count <= atMost) return Enumerable.Range(0, count);
        return Enumerable.Range(0, atMost).Select(i => (int)Math.Round((count - 1) * Math.Pow((double)i / (atMost - 1), 2))).Distinct();
    }

    private void Front() => html.Table("Settings that no other one beats in both",
        ["Settings", "Signals per patient-day", "Slowest signal after", "Inside the bounds"],
        section.Proposal!.Front.Select(f => (IReadOnlyList<string>)
            [SettingsWords.Full(f.Settings), Words.RateWords(f.SignalsPerDay), Words.Span(f.WorstTimeToSignal), f.IsInsideBounds ? "yes" : "no"]));

    private void Evidence(Proposal proposal)
    {
        bool proposes = proposal is { Chosen: not null, IsRefused: false };
        (string Name, CandidateEvidence? Of)[] columns =
        [
            ("Present", proposal.Present),
            .. section.AskedAbout.Select(a => ($"Settings {SettingsWords.Quoted(a.Name)}", (CandidateEvidence?)a.Evidence)),
            (proposes ? "Proposed" : "Looked at, not good enough", proposes ? proposal.Chosen : proposal.Best),
        ];
        var shown = columns.Where(c => c.Of is not null).Select(c => (c.Name, Of: c.Of!)).ToList();
        if (shown.Count > 0)
        {
            html.Leaf("h4", "Side by side");
            using (html.Element("div", "wide"))
                html.Table("On the same recordings", ["What", .. shown.Select(s => s.Name)], SideBySide([.. shown.Select(s => s.Of)]), 1 + shown.Count);
        }

        if (proposal.Findings.Count > 0)
        {
            html.Leaf("h4", "Ten checks before any settings are proposed");
            using (html.Element("div", "wide"))
            {
                html.Table("Each can limit a proposal or refuse it", ["Check", "Result", "What was found"],
                    proposal.Findings.GroupBy(f => f.Line).OrderBy(g => g.Key).Select(g => (IReadOnlyList<string>)
                        [$"{g.Key}. {Reasons.Checks[Math.Clamp(g.Key, 1, Reasons.Checks.Count) - 1]}", Verdict(g.Max(f => f.Verdict)), string.Join(" ", g.Select(f => Reasons.Plain(f.Words)))]), 3);
            }
        }

        if (proposal.SignalledEarlier.Count > 0)
        {
            using (html.Details($"Events that the present settings signal earlier ({Words.Number(proposal.SignalledEarlier.Count, 0)})"))
            {
                html.Table("Staff may have cut these short. Onset counts from the beginning of the recording; the rest are seconds from onset to signal", ["Patient", "Recording", "Onset", "Present", "Other settings", "Later by"],
                    proposal.SignalledEarlier.Select(e => (IReadOnlyList<string>)
                        [e.Patient, e.Recording, Clock.SinceStart(e.Onset), Words.Span(e.Present), e.Proposed is { } p ? Words.Span(p) : "no signal", e.Lost is { } lost ? Words.Span(lost) : "–"]), 3);
            }
        }

        if (proposal.BlindSample is { Drawn.Count: > 0 } sample)
        {
            using (html.Details($"Silent stretches to look at without knowing the alarms ({Words.Number(sample.Drawn.Count, 0)})"))
            {
                html.Table("Drawn at random from the time without a signal; times count from the beginning of the recording", ["Patient", "Recording", "From", "To"],
                    sample.Drawn.Select(s => (IReadOnlyList<string>)[s.Patient, s.Recording, Clock.SinceStart(s.Slice.Start), Clock.SinceStart(s.Slice.End)]), 4);
            }
        }

        if (proposal.Method.Length > 0) html.Paragraph($"How: {Reasons.Plain(proposal.Method)}", "note");
    }

    private static IEnumerable<IReadOnlyList<string>> SideBySide(IReadOnlyList<CandidateEvidence> of)
    {
        IReadOnlyList<string> Row(string name, Func<CandidateEvidence, string> value) => [name, .. of.Select(value)];
        yield return Row("Settings", e => SettingsWords.Full(e.Settings));
        yield return Row("Signals per patient-day of valid time", e => Words.RateWords(e.SignalsPerDay.Value) + (LoadPlot.HasInterval(e.SignalsPerDay) ? $" (interval {Words.Rate(e.SignalsPerDay.Low!.Value)} to {Words.Rate(e.SignalsPerDay.High!.Value)})" : ""));
        yield return Row("Minutes of signal per patient-day", e => Words.Number(e.SignalMinutesPerDay, 1));
        yield return Row("Technical signals per day connected", e => Words.RateWords(e.TechnicalSignalsPerDay.Value));
        yield return Row("Must-catch events", e => e.MustCatchEvents == 0 ? "none" : $"{Words.Number(e.MustCatchEvents - e.Missed - e.Late, 0)} in time, {Words.Number(e.Late, 0)} late, {Words.Number(e.Missed, 0)} missed");
        yield return Row("Slowest signal after the beginning of an event", e => e.WorstTimeToSignal is { } t ? Words.Span(t) : "–");
        yield return Row("Middle (median) time to signal", e => e.MedianTimeToSignal is { } t ? Words.Span(t) : "–");
        yield return Row("Could still be missed, of such events", e => e.MustCatchEvents == 0 ? "cannot be said" : $"up to {Words.Share(e.MissedUpperBoundEvents)}");
        yield return Row("Could still have an event missed, of such patients", e => e.MustCatchEvents == 0 ? "cannot be said" : $"up to {Words.Share(e.MissedUpperBoundPatients)}");
    }

    private static string Verdict(RuleVerdict verdict) => verdict switch
    {
        RuleVerdict.Met => "✓\u00a0met",
        RuleVerdict.Limits => "!\u00a0to\u00a0know",
        _ => "✕\u00a0refuses",
    };
}
