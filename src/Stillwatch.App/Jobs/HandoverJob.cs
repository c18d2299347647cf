using System.Security.Cryptography;
using System.Text;
using Stillwatch.App.Commands;
using Stillwatch.Reports;
using Stillwatch.Reports.Model;

namespace Stillwatch.App.Jobs;

/// <summary>What the person who hands over says besides; empty or null: nothing.</summary>
/// <param name="Title">The page's heading; null: from the files.</param>
/// <param name="Scope">For whom a decision is; null: from the recordings.</param>
/// <param name="Why">In their own words.</param>
/// <param name="AcceptedBy">Who takes responsibility; null: nobody yet.</param>
/// <param name="AcceptedOn">As it should be printed.</param>
/// <param name="Until">As it should be printed.</param>
/// <param name="WithMap">The settings map on a second page.</param>
internal sealed record HandoverWishes(string? Title, string? Scope, string Why, string? AcceptedBy, string? AcceptedOn, string? Until, bool WithMap);

/// <summary>A page to hand over, and its figure where only a picture is asked for.</summary>
/// <param name="Kind">"recording" or "decision".</param>
/// <param name="Document">The page.</param>
/// <param name="Figure">Overview of the recording, or settings map.</param>
/// <param name="RefusedBecause">Why the evidence does not support a change; empty: it does, or a recording was asked about.</param>
internal sealed record HandoverModel(string Kind, HandoverDocument Document, Picture Figure, IReadOnlyList<string> RefusedBecause);

/// <summary>A page as it was written.</summary>
internal sealed record WrittenPage(string Path, string MediaType, long Bytes, string Sha256);

/// <summary>From a command's model to a page to hand over, and to its file.</summary>
internal static class HandoverJob
{
    /// <summary>Endings of files that can be written, and what they are.</summary>
    public static readonly IReadOnlyDictionary<string, string> MediaTypes = new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase)
    {
        [".pdf"] = "application/pdf",
        [".html"] = "text/html",
        [".png"] = "image/png",
    };

    public static HandoverModel OfRecording(ReviewModel model, SideFiles side, HandoverWishes wishes)
    {
        var report = ReportJob.Of(model, side);
        var page = new RecordingPageModel
        {
            Title = wishes.Title ?? model.Loaded.File.Name,
            Recording = report.Recordings[0],
            Marks = side.Marks?.MarksOn(model.Loaded.File.Name) ?? [],
            Remarks = wishes.Why.Length > 0 ? [wishes.Why] : [],
            IsInvented = report.IsInvented,
            Provenance = report.Provenance,
        };
        var document = HandoverPages.Recording(page);
        return new HandoverModel("recording", document, document.Worded(Pictures.Overview(page.Recording)), []);
    }

    /// <exception cref="StopException">Exit code 4: the recordings are of several groups, or the settings have no low limit.</exception>
    public static HandoverModel OfDecision(TuneModel model, SideFiles side, HandoverWishes wishes)
    {
        if (model.Groups.Count != 1)
        {
            throw StopException.NothingComputable(new Trouble(
                "a decision is for one group of like patients", $"{model.Groups.Count} groups: {string.Join("; ", model.Groups.Select(g => g.Key.ToString()))}", "recordings of one", "the files named",
                "settings are never carried over from one group to another; name the recordings of one group, or say their --category"));
        }

        var group = model.Groups[0];
        var asked = ReportJob.AskedAbout(model, group);
        if (asked.Count == 0)
        {
            throw StopException.NothingComputable(new Trouble(
                "no decision can be shown", $"settings without a low SpO2 limit in {side.Settings!.Path}", "a set with spo2Low", "--settings", "the evidence is about the low limit, its delay and its backstop"));
        }

        var decided = DecidedJob.Run(group, asked[0].Evidence.Settings);
        if (decided.Evidence is { } own) asked = [asked[0] with { Evidence = own }];
        var evidence = ReportJob.SettingsOf(group, asked);
        bool isProposed = evidence.Proposal is { Chosen: { } chosen } && chosen.Settings == asked[0].Evidence.Settings;
        var recordings = model.Recordings.Select(r => r.Loaded);
        var page = new DecisionModel
        {
            Title = wishes.Title ?? $"Settings: {asked[0].Name}",
            Scope = wishes.Scope ?? $"On the evidence of {group.Recordings.Count} {(group.Recordings.Count == 1 ? "recording" : "recordings")} of {group.Patients} {(group.Patients == 1 ? "patient" : "patients")}",
            Decided = asked[0].Evidence,
            DecidedName = isProposed ? null : asked[0].Name,
            OfDecided = decided.Findings,
            Evidence = evidence,
            Why = wishes.Why,
            AcceptedBy = wishes.AcceptedBy,
            AcceptedOn = wishes.AcceptedOn,
            Until = wishes.Until,
            WithMap = wishes.WithMap,
            IsInvented = ReportJob.IsInvented(recordings),
            Provenance = ReportJob.Origin(recordings, side),
        };
        var map = evidence.MapByDelay is { } picture ? Pictures.SettingsMap(picture, evidence.Proposal, askedAbout: asked) : Picture.None;
        var document = HandoverPages.Decision(page);
        return new HandoverModel("decision", document, document.Worded(map), evidence.Proposal?.RefusedBecause ?? []);
    }

    /// <exception cref="StopException">Exit code 2: no kind of page ends so, a file stands there, or one that is read would be replaced.</exception>
    public static void CheckTarget(string to, bool replace, IReadOnlyCollection<string> inputs)
    {
        if (!MediaTypes.ContainsKey(Path.GetExtension(to)))
            throw StopException.Usage(new Trouble($"cannot write {to}", $"the ending \"{Path.GetExtension(to)}\"", "one of " + string.Join(", ", MediaTypes.Keys), "--to", "the ending says whether it becomes a PDF, a web page or a picture"));
        ExportFiles.RefuseInputs(to, inputs);
        if (!replace && Path.Exists(to))
            throw StopException.Usage(new Trouble($"cannot write {to}", "a file of this name", "none", "--to", "it was written before; choose another name, or replace it with --replace"));
    }

    /// <summary>The whole file or nothing.</summary>
    /// <exception cref="StopException">Exit code 3: it cannot be written; 4: there is nothing to draw.</exception>
    public static WrittenPage Write(HandoverModel model, string to, bool replace, DateTimeOffset made)
    {
        byte[] bytes = BytesOf(model, Path.GetExtension(to).ToLowerInvariant(), made);
        string draft = $"{to}.{Path.GetRandomFileName()}.draft";
        try
        {
            using (var stream = new FileStream(draft, FileMode.CreateNew)) stream.Write(bytes);
            File.Move(draft, to, replace);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            if (File.Exists(draft)) File.Delete(draft);
            throw StopException.Unreadable(new Trouble($"cannot write {to}", e.Message, "a file that may be written", to, "the folder does not exist, or belongs to another account"), e);
        }

        return new WrittenPage(to, MediaTypes[Path.GetExtension(to)], bytes.Length, Convert.ToHexStringLower(SHA256.HashData(bytes)));
    }

    private static byte[] BytesOf(HandoverModel model, string ending, DateTimeOffset made)
    {
        if (ending == ".png")
        {
            if (model.Figure.IsEmpty)
                throw StopException.NothingComputable(new Trouble("there is no figure to write", "nothing to draw", "a recording with SpO2, or a settings map", "--to", "write a .pdf or .html instead: it says why"));
            return model.Figure.ToPng();
        }

        using var to = new MemoryStream();
        if (ending == ".pdf") model.Document.WritePdf(to, made);
        else
        {
            using var writer = new StreamWriter(to, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false), leaveOpen: true) { NewLine = "\n" };
            model.Document.WriteHtml(writer);
        }

        return to.ToArray();
    }
}
