using System.Text.RegularExpressions;
using Stillwatch.Conditioning;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;

namespace Stillwatch.Reports.Page;

/// <summary>How the numbers were made, from which files, with which software.</summary>
internal static partial class MethodPart
{
    public static void Write(HtmlText html, ReportModel model)
    {
        html.Leaf("h2", "How these numbers were made", id: "method");
        if (model.Recordings.Count > 0)
        {
            html.Table("Averaging and coverage", ["Recording", "Began", "Averaging by the monitor", "Averaging of ours", "Recorded", "Valid", "Coverage"],
                model.Recordings.Select(r => (IReadOnlyList<string>)
                [
                    r.Recording.Name, Began(r), r.Recording.SourceAveraging.ToString(), Words.Averaging(r.Conditioning.Averaging),
                    r.SpO2 is { } s ? Words.Span(s.Connected) : "no SpO2", r.SpO2 is { } v ? Words.Span(v.Valid) : "–", r.SpO2 is { } c ? Words.Share(c.Coverage) : "–",
                ]), 4);
        }

        Grouped(html, model, r => $"Times are {new Clock(r.Recording.Start).Caption}; {Values(r.Conditioning)}.");
        if (model.Recordings.Any(r => r.Review is not null) || Cautions.AdultAssumed(model) is not null) Definitions(html, model);
        Settings(html, model);
        html.Leaf("h3", "Found while reading the files");
        foreach (var alike in model.Recordings.GroupBy(r => string.Join('\n', r.Issues)))
        {
            if (model.Recordings.Count > 1) html.Leaf("h4", Names([.. alike], 3));
            PlainIssues.Write(html, alike.First().Issues);
        }

        FilesAndSoftware(html, model.Provenance);
    }

    public static void FilesAndSoftware(HtmlText html, Provenance provenance)
    {
        html.Leaf("h3", "Files and software");
        if (provenance.Inputs.Count > 0)
        {
            using (html.Element("div", "mono wide"))
                html.Table("Files read, with the SHA-256 hash of their bytes", ["File", "Read as", "Bytes", "SHA-256"],
                    provenance.Inputs.Select(i => (IReadOnlyList<string>)[i.Name, i.Role, i.Bytes is { } b ? Words.Number(b, 0) : "–", i.Sha256 ?? "not computed"]), 4);
        }

        html.Paragraph($"{provenance.Software}{(provenance.MadeAt is { } at ? $", {at}" : "")}.");
        if (provenance.Command is { } command)
        {
            html.Leaf("p", "Command:");
            html.Leaf("p", command, "mono");
        }

        if (provenance.Notes.Count > 0) html.List(provenance.Notes);
    }

    private static void Definitions(HtmlText html, ReportModel model)
    {
        html.Leaf("h3", "Definitions");
        if (Cautions.AdultAssumed(model) is { } assumed) html.Paragraph(assumed);
        foreach (var (names, definition) in Alike(model, r => r.Review?.Definition))
        {
            if (names.Length > 0) html.Paragraph(names);

            // The Δ index stands in no figure and no table here, so its definition would only raise a question.
            html.List(DefinitionStart().Split(definition).Where(d => !d.StartsWith("Δ index", StringComparison.Ordinal)));
        }
    }

    private static void Settings(HtmlText html, ReportModel model)
    {
        if (model.Recordings.All(r => r.PresentSettings is null)) return;
        bool arePresent = model.Recordings.All(r => r.ReplayedName is null);
        html.Leaf("h3", arePresent ? "Present settings" : "Replayed settings");
        Grouped(html, model, r => r.PresentSettings is { } settings
            ? $"{(r.ReplayedName is null ? "" : $"Replayed settings “{r.ReplayedName}”: ")}{string.Join("; ", SettingsWords.Lines(settings))}." : null);
    }

    /// <summary>What is the same for several recordings is said once, with their names in front where it is not true of all.</summary>
    private static void Grouped(HtmlText html, ReportModel model, Func<RecordingSection, string?> words)
    {
        foreach (var (names, said) in Alike(model, words)) html.Paragraph(names + said);
    }

    private static IEnumerable<(string Names, string Words)> Alike(ReportModel model, Func<RecordingSection, string?> words) =>
        model.Recordings.Select(r => (Section: r, Words: words(r))).Where(r => r.Words is not null).GroupBy(r => r.Words!)
            .Select(g => (g.Count() == model.Recordings.Count ? "" : Names([.. g.Select(x => x.Section)], 4) + ": ", g.Key));

    private static string Names(IReadOnlyList<RecordingSection> recordings, int atMost) =>
        string.Join(", ", recordings.Take(atMost).Select(r => r.Recording.Name)) + (recordings.Count > atMost ? $" and {recordings.Count - atMost} more" : "");

    private static string Began(RecordingSection section)
    {
        var clock = new Clock(section.Recording.Start);
        return section.Recording.Start.IsKnown && section.SpO2 is { } s ? clock.WithDayAt(s.Start) : "not known";
    }

    private static string Values(ConditioningSettings conditioning) =>
        (conditioning.Validity == ValidityRule.Standard ? "doubtful values left out" : "every number counts as it stands")
        + (conditioning.Rounding == Rounding.Display ? ", rounded as displayed" : ", not rounded");

    /// <summary>Where the review's definitions begin one after another; what begins otherwise stays with the one before.</summary>
    [GeneratedRegex(@"(?<=[.)]) (?=(?:Averaging|Validity|Rounding|Desaturation event|Cluster of dips|Δ index|Target|The patient's own start)\b|A value holds|Everything is weighted|A percentile|For looking back only)")]
    private static partial Regex DefinitionStart();
}
