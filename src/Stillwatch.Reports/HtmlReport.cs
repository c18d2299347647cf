using Stillwatch.Reports.Model;
using Stillwatch.Reports.Page;
using Stillwatch.Reports.Wording;

namespace Stillwatch.Reports;

/// <summary>Writes a report as one self-contained page: styles and figures inside, no script, nothing fetched from anywhere.</summary>
public static class HtmlReport
{
    /// <summary>The same model gives the same page, byte for byte. The writer stays open.</summary>
    public static void Write(ReportModel model, TextWriter writer)
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentNullException.ThrowIfNull(writer);
        PageFrame.Write(writer, model.Title, model.IsInvented, model.Provenance.Software, Glossary.Entries, html =>
        {
            using (html.Element("header"))
            {
                html.Leaf("h1", model.Title);
                if (About(model) != model.Title) html.Leaf("p", About(model), "about");
                if (Cautions.AdultAssumed(model) is { } assumed) html.Leaf("p", assumed, "about assumed");
                html.Leaf("p", Cautions.Short, "about");
            }

            AnswerPart.Write(html, model);
            Contents(html, model);
            Evidence(html, model);
            MethodPart.Write(html, model);
        }, Cautions.Full);
    }

    private static bool IsWard(ReportModel model) => model.Recordings.Count > 2;

    private static void Evidence(HtmlText html, ReportModel model)
    {
        if (IsWard(model))
        {
            if (model.Ward is { } ward)
            {
                html.Leaf("h2", "The ward", id: "ward");
                WardPart.Load(html, ward);
            }

            Settings(html, model);
            html.Leaf("h2", "The recordings", id: "recordings");
            WardPart.Recordings(html, model.Recordings);
            return;
        }

        for (int i = 0; i < model.Recordings.Count; i++)
        {
            html.Leaf("h2", model.Recordings.Count == 1 ? "What happened" : $"What happened: {model.Recordings[i].Recording.Name}", id: i == 0 ? "recordings" : null);
            new RecordingPart(html, model.Recordings[i], i + 1).Write();
        }

        if (model.Ward is { } few) WardPart.Load(html, few);
        Settings(html, model);
    }

    private static void Settings(HtmlText html, ReportModel model)
    {
        for (int i = 0; i < model.Settings.Count; i++)
        {
            html.Leaf("h2", model.Settings.Count == 1 ? "What settings would do" : $"What settings would do: {GroupTitles.Of(model.Settings[i], model.Settings)}", id: $"settings-{i + 1}");
            new SettingsPart(html, model.Settings[i], i + 1, saysVerdict: model.Settings.Count > 1).Write();
        }
    }

    private static void Contents(HtmlText html, ReportModel model)
    {
        using (html.Element("nav", "contents"))
        {
            if (IsWard(model) && model.Ward is not null) html.Link("ward", "The ward");
            if (!IsWard(model) && model.Recordings.Count > 0) html.Link("recordings", "What happened");
            for (int i = 0; i < model.Settings.Count; i++) html.Link($"settings-{i + 1}", model.Settings.Count == 1 ? "What settings would do" : $"Settings: {GroupTitles.Of(model.Settings[i], model.Settings)}");
            if (IsWard(model)) html.Link("recordings", "The recordings");
            html.Link("method", "How the numbers were made");
            html.Link("words", "What the words mean");
            html.Link("cautions", "What this is not for");
        }
    }

    private static string About(ReportModel model)
    {
        if (model.Recordings.Count != 1)
        {
            return model.Recordings.Count == 0 ? "No recording" : $"{Words.Count(model.Recordings.Count, "recording")}{(model.Ward is { } ward ? $" of {Words.Count(ward.Patients.Count, "patient")}" : "")}";
        }

        var section = model.Recordings[0];
        string when = section.SpO2 is { } s && section.Recording.Start.IsKnown ? $"; {new Clock(section.Recording.Start).WithDayAt(s.Start)} to {new Clock(section.Recording.Start).WithDayAt(s.End)}" : "; the time of day is not known";
        return $"{section.Recording.Name}; {Words.Of(section.Category, section.IsCategoryAssumed)}{when}";
    }
}
