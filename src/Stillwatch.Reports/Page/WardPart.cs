using Stillwatch.Reports.Model;
using Stillwatch.Reports.Plots;
using Stillwatch.Reports.Wording;

namespace Stillwatch.Reports.Page;

/// <summary>The ward as a whole: who causes the load, and every recording on one line.</summary>
internal static class WardPart
{
    public static void Load(HtmlText html, WardSection ward) => html.Figure(
        "Who causes the alarm load",
        $"Physiological signals per patient-day of each patient under {ward.SettingsInWords}, the loudest first. A few patients often cause most of it; settings for one of them are a matter for those who know the patient.",
        Figures.Contributors(ward), () => html.Table("Alarm load of each patient",
            ["Patient", "Category", "Recordings", "Valid", "Connected", "Signals", $"Per patient-day, {ward.SettingsInWords}", "Per patient-day, proposed settings", "Technical, per day connected", "Must-catch events"],
            ContributorsPlot.Sorted(ward).Select(p => (IReadOnlyList<string>)
            [
                p.Patient, Words.Of(p.Category, p.IsCategoryAssumed), Words.Number(p.Recordings, 0), Words.Span(p.Valid), Words.Span(p.Connected), p.PresentSignals is { } s ? Words.Number(s, 0) : "–",
                Rate(ContributorsPlot.PerDay(p.PresentSignals, p.Valid)), Rate(ContributorsPlot.PerDay(p.ProposedSignals, p.Valid)), Rate(ContributorsPlot.PerDay(p.TechnicalSignals, p.Connected)),
                Words.Number(p.MustCatchEvents, 0),
            ]), 2));

    public static void Recordings(HtmlText html, IReadOnlyList<RecordingSection> recordings)
    {
        var replayed = recordings.FirstOrDefault(r => r.PresentSettings is not null);
        string limit = replayed is null ? "" : $" with the {SettingsWords.LowLimitOf(replayed.ReplayedName)} dashed";
        html.Paragraph($"Each strip shows SpO2 from 70 to 100 %{limit}; hatched: no valid value. The recordings open one by one below.");
        using (html.Element("div", "scroll wide"))
        using (html.Element("table"))
        {
            html.Leaf("caption", "All recordings");
            using (html.Element("thead"))
            using (html.Element("tr"))
                foreach (string head in (string[])["Recording", "SpO2", "Recorded", "Coverage", "Below 90 %", "Lowest", "Must-catch", replayed is null ? "Signals" : $"Signals, {SettingsWords.Of(replayed)}"])
                    html.Leaf("th", head, head is "Recording" or "SpO2" ? null : "n");
            using (html.Element("tbody"))
                for (int i = 0; i < recordings.Count; i++) Row(html, recordings[i], i + 1);
        }

        for (int i = 0; i < recordings.Count; i++)
        {
            using (html.Details($"{recordings[i].Recording.Name}: {Words.Of(recordings[i].Category, recordings[i].IsCategoryAssumed)}", "recording", $"recording-{i + 1}"))
                new RecordingPart(html, recordings[i], i + 1).Write();
        }
    }

    private static void Row(HtmlText html, RecordingSection section, int number)
    {
        using (html.Element("tr"))
        {
            using (html.Element("th"))
                html.Link($"recording-{number}", section.Recording.Name);
            using (html.Element("td", "strip")) html.Raw(Figures.NightStrip(section, $"r{number}-strip"));
            html.Leaf("td", section.SpO2 is { } s ? Words.Span(s.Connected) : "no SpO2", "n");
            html.Leaf("td", section.SpO2 is { } c ? Words.Share(c.Coverage) : "–", "n");
            var below = section.Review?.Exposure.Below;
            html.Leaf("td", below is { Count: > 0 } ? Words.Span(below[0].Time) : "–", "n");
            html.Leaf("td", Words.Saturation(section.Review?.Exposure.Minimum), "n");
            html.Leaf("td", Words.Number(section.MustCatch.Count, 0), "n");
            html.Leaf("td", section.PresentSignals is { } signals ? Words.Number(signals.Count(x => Alarms.AlarmConditions.IsPhysiological(x.Condition)), 0) : "–", "n");
        }
    }

    private static string Rate(double? rate) => rate is { } r ? Words.RateWords(r) : "–";
}
