using Stillwatch.Conditioning;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;

namespace Stillwatch.Reports.Page;

/// <summary>How the numbers were made, from which files, with which software.</summary>
internal static class MethodPart
{
    public static void Write(HtmlText html, ReportModel model)
    {
        html.Leaf("h2", "How these numbers were made", id: "method");
        if (model.Recordings.Count > 0)
        {
            html.Table("Averaging and coverage", ["Recording", "Began", "Averaging by the monitor", "Averaging of ours", "Values", "Recorded", "Valid", "Coverage"],
                model.Recordings.Select(r => (IReadOnlyList<string>)
                [
                    r.Recording.Name, Began(r), r.Recording.SourceAveraging.ToString(), Words.Averaging(r.Conditioning.Averaging), Values(r.Conditioning),
                    r.SpO2 is { } s ? Words.Span(s.Connected) : "no SpO2", r.SpO2 is { } v ? Words.Span(v.Valid) : "–", r.SpO2 is { } c ? Words.Share(c.Coverage) : "–",
                ]), 5);
        }

        foreach (var definition in model.Recordings.Where(r => r.Review is not null).GroupBy(r => r.Review!.Definition))
        {
            string names = definition.Count() == model.Recordings.Count ? "" : string.Join(", ", definition.Take(3).Select(r => r.Recording.Name)) + (definition.Count() > 3 ? $" and {definition.Count() - 3} more" : "") + ": ";
            html.Paragraph(names + definition.Key);
        }

        Settings(html, model);
        html.Leaf("h3", "Found while reading the files");
        foreach (var recording in model.Recordings)
        {
            if (model.Recordings.Count > 1) html.Leaf("h4", recording.Recording.Name);
            PlainIssues.Write(html, recording.Issues);
        }

        html.Leaf("h3", "Files and software");
        if (model.Provenance.Inputs.Count > 0)
        {
            using (html.Element("div", "mono wide"))
                html.Table("Files read, with the SHA-256 hash of their bytes", ["File", "Read as", "Bytes", "SHA-256"],
                    model.Provenance.Inputs.Select(i => (IReadOnlyList<string>)[i.Name, i.Role, i.Bytes is { } b ? Words.Number(b, 0) : "–", i.Sha256 ?? "not computed"]), 4);
        }

        html.Paragraph($"{model.Provenance.Software}{(model.Provenance.MadeAt is { } at ? $", {at}" : "")}.");
        if (model.Provenance.Command is { } command)
        {
            html.Leaf("p", "Command:");
            html.Leaf("p", command, "mono");
        }

        if (model.Provenance.Notes.Count > 0) html.List(model.Provenance.Notes);
    }

    private static void Settings(HtmlText html, ReportModel model)
    {
        var sets = model.Recordings.Where(r => r.PresentSettings is not null).GroupBy(r => string.Join("; ", SettingsWords.Lines(r.PresentSettings!))).ToList();
        if (sets.Count == 0) return;
        html.Leaf("h3", "Present settings");
        foreach (var set in sets)
        {
            string names = sets.Count == 1 ? "" : $"{string.Join(", ", set.Take(4).Select(r => r.Recording.Name))}{(set.Count() > 4 ? $" and {set.Count() - 4} more" : "")}: ";
            html.Paragraph($"{names}{set.Key}.");
        }
    }

    private static string Began(RecordingSection section)
    {
        var clock = new Clock(section.Recording.Start);
        return section.Recording.Start.IsKnown && section.SpO2 is { } s ? $"{clock.WithDayAt(s.Start)} ({clock.Caption})" : "not known";
    }

    private static string Values(ConditioningSettings conditioning) =>
        (conditioning.Validity == ValidityRule.Standard ? "doubtful values left out" : "every number counts as it stands")
        + (conditioning.Rounding == Rounding.Display ? ", rounded as displayed" : ", not rounded");
}
