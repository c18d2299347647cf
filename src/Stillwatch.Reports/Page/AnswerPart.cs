using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Page;

/// <summary>The questions and their answers, before any evidence.</summary>
internal static class AnswerPart
{
    public static void Write(HtmlText html, ReportModel model)
    {
        using (html.Element("section", "answer", "answer"))
        {
            html.Leaf("h2", "What happened?");
            html.Paragraph(Answers.WhatHappened(model));
            if (model.Settings.Count == 1) One(html, model.Settings[0]);
            else if (model.Settings.Count > 1) Groups(html, model.Settings);
        }

        Tiles(html, model);
    }

    private static void One(HtmlText html, SettingsSection section)
    {
        html.Leaf("h2", "What would other settings change?");
        html.Paragraph(Answers.WhatWouldChange(section));
        if (section.Proposal is not { } proposal) return;
        html.Leaf("h2", proposal.IsRefused ? "Is a change proposed?" : "Which settings are proposed?");
        html.Paragraph(Answers.WhatIsProposed(section), "verdict");
        if (proposal.IsRefused)
        {
            html.List(proposal.RefusedBecause.Select(Reasons.Plain));
            return;
        }

        if (proposal.Caveats.Count == 0) return;
        html.Leaf("h2", "What to know before deciding");
        html.List(proposal.Caveats.Select(Reasons.Plain));
    }

    private static void Groups(HtmlText html, IReadOnlyList<SettingsSection> sections)
    {
        html.Leaf("h2", "Which settings are proposed?");
        int proposed = sections.Count(s => s.Proposal is { Chosen: not null, IsRefused: false });
        html.Paragraph(proposed == 0
            ? "None. In no group of like patients do these recordings support a change; the reasons stand beside each group."
            : $"For {proposed} of {Words.Count(sections.Count, "group")} of like patients. Settings are never carried over from one group to another.", "verdict");
        using (html.Element("div", "wide"))
        {
            html.Table("Signals per patient-day on these recordings", ["Group", "Patients", "Present", "Proposed", "Settings, or why not"],
                sections.Select(s => (IReadOnlyList<string>)
                [
                    GroupTitles.Of(s, sections), Words.Number(s.Patients, 0), s.Proposal?.Present is { } p ? Words.RateWords(p.SignalsPerDay.Value) : "–",
                    s.Proposal?.Chosen is { } c ? Words.RateWords(c.SignalsPerDay.Value) : "no change", Why(s),
                ]), 5);
        }
    }

    private static string Why(SettingsSection section) => section.Proposal switch
    {
        null => "no search was made",
        { IsRefused: true } refused => Reasons.Short(refused),
        _ => Answers.WhatIsProposed(section),
    };

    private static void Tiles(HtmlText html, ReportModel model)
    {
        var reviews = model.Recordings.Where(r => r.Review is not null).Select(r => r.Review!).ToList();
        if (reviews.Count == 0) return;
        using (html.Element("div", "tiles"))
        {
            var valid = reviews.Aggregate(Duration.Zero, (sum, r) => sum + r.Valid);
            var monitored = reviews.Aggregate(Duration.Zero, (sum, r) => sum + r.Monitored);
            Tile(html, "Valid SpO2", Words.Span(valid), monitored > Duration.Zero ? $"{Words.Share(valid.Seconds / monitored.Seconds)} of {Words.Span(monitored)}" : "nothing recorded");
            if (reviews.Min(r => r.Exposure.Minimum) is { } minimum) Tile(html, "Lowest SpO2", Words.Saturation(minimum), reviews.Count == 1 ? $"median {Words.Saturation(reviews[0].Exposure.Median)}" : $"of {Words.Count(reviews.Count, "recording")}");
            var below = reviews.Where(r => r.Exposure.Below.Count > 0).Select(r => r.Exposure.Below[0]).ToList();
            if (below.Count > 0)
            {
                var time = below.Aggregate(Duration.Zero, (sum, b) => sum + b.Time);
                Tile(html, $"Below {Words.Saturation(below[0].Level)}", Words.Span(time), valid > Duration.Zero ? $"{Words.Share(time.Seconds / valid.Seconds)} of valid time" : "");
            }

            int mustCatch = model.Recordings.Sum(r => r.MustCatch.Count);
            Tile(html, "Must-catch events", Words.Number(mustCatch, 0), Present(model));
            if (model.Settings.Count == 1 && model.Settings[0].Proposal is { } proposal) Proposed(html, proposal);
            else if (model.Ward?.PresentSignalsPerDay is { } load) Tile(html, "Signals per patient-day", Words.RateWords(load) + (model.Ward.ProposedSignalsPerDay is { } after ? $" → {Words.RateWords(after)}" : ""), model.Ward.ProposedSignalsPerDay is null ? model.Ward.SettingsInWords : $"{model.Ward.SettingsInWords} → proposed");
        }
    }

    private static void Proposed(HtmlText html, Proposal proposal)
    {
        if (proposal.Present is { } present)
        {
            Tile(html, "Signals per patient-day", proposal.Chosen is { } chosen ? $"{Words.RateWords(present.SignalsPerDay.Value)} → {Words.RateWords(chosen.SignalsPerDay.Value)}" : Words.RateWords(present.SignalsPerDay.Value),
                proposal.Chosen is null ? "present settings" : "present → proposed");
        }

        if (proposal.Chosen is { MustCatchEvents: > 0 } safe)
            Tile(html, "Could still be missed", $"≤ {Words.Share(safe.MissedUpperBoundEvents)}", "of must-catch events, proposed");
    }

    private static string Present(ReportModel model)
    {
        var answers = model.Recordings.SelectMany(r => r.MustCatch).Select(m => m.Present).OfType<CatchAnswer>().ToList();
        if (answers.Count == 0) return model.Recordings.Any(r => r.MustCatch.Count > 0) ? "no settings to judge" : "";
        int late = answers.Count(a => a.Verdict == Tuning.MustCatch.CatchVerdict.Late), missed = answers.Count(a => a.Verdict == Tuning.MustCatch.CatchVerdict.Missed);
        var names = model.Recordings.Where(r => r.PresentSettings is not null).Select(r => r.ReplayedName).Distinct().ToList();
        string under = names.Count == 1 && names[0] is { } name ? SettingsWords.Quoted(name) : names.TrueForAll(n => n is null) ? "now" : "replayed settings";
        return $"{under}: " + (late + missed == 0 ? "all signalled in time" : $"{answers.Count - late - missed} in time, {late} late, {missed} missed");
    }

    private static void Tile(HtmlText html, string label, string value, string more)
    {
        using (html.Element("div", "tile"))
        {
            html.Leaf("span", label, "label");
            html.Leaf("span", value, "value");
            html.Leaf("span", more, "more");
        }
    }
}
