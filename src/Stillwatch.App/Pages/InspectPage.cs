using Stillwatch.App.Jobs;
using Stillwatch.App.Terminal;
using Stillwatch.Signals;

namespace Stillwatch.App.Pages;

/// <summary>"What is in this file?"</summary>
internal static class InspectPage
{
    private const int ChannelsShown = 24;
    private const int LabelWidth = 14;
    private const int TextsShown = 5;
    private const int TextLength = 60;

    public static void Write(Page page, InspectModel model)
    {
        page.Question(model.Recordings.Count + model.Unreadable.Count == 1 ? "What is in this file?" : "What is in these files?");
        foreach (var recording in model.Recordings) One(page, recording);
        foreach (var file in model.Unreadable)
        {
            page.Heading(file.Path);
            page.Text($"Not read: {file.Trouble.Found}; expected {file.Trouble.Expected} ({file.Trouble.Where}). Likely cause: {file.Trouble.LikelyCause}.");
        }

        if (model.Recordings.Count > 0)
        {
            page.Blank();
            page.Note("\"With a number\", least, greatest and mean are over the numbers present, before any validity rule: a dropout code such as 0 counts in them. What review and tune make of such values is rule R2.");
        }

        page.Caution();
    }

    public static string Answer(InspectedRecording inspected) =>
        $"{inspected.Loaded.File.Name}: {inspected.Loaded.Format}; {Say.Length(inspected.Length)}, start {inspected.Loaded.Recording.Start}; {Used(inspected.Loaded.Recording)}.";

    private static void One(Page page, InspectedRecording inspected)
    {
        var recording = inspected.Loaded.Recording;
        page.Answer(Answer(inspected));
        if (inspected.Loaded.IsInManifest)
            page.Text($"ward.json: patient {inspected.Loaded.Patient}, {inspected.Loaded.Category.Words}, source averaging {recording.SourceAveraging}.");
        // Channels that the program uses come first; a monitor's dozens of others must not push them off the screen.
        var shown = inspected.Channels.OrderBy(c => c.Channel.Kind == ChannelKind.Other).Take(ChannelsShown).ToList();
        var table = Page.TableOf(("Channel", false), ("Is", false), ("Unit", false), ("Rows", true), ("With a\nnumber", true), ("Rate", false), ("Least", true), ("Greatest", true), ("Mean", true));
        foreach (var c in shown)
        {
            string rate = Say.Rate(c.RateHz, c.Channel.Times.Period) + (c.Channel.Times.IsEven ? string.Empty : ", uneven");
            Page.Row(table, Wrapped.Label(c.Channel.Label, LabelWidth), Say.Kind(c.Channel.Kind), c.Channel.Unit.Length > 0 ? c.Channel.Unit : Say.Nothing, $"{c.Samples:#,0}", $"{c.Present:#,0}", rate, Say.Measure(c.Minimum), Say.Measure(c.Maximum), Say.Measure(c.Mean));
        }

        if (shown.Count > 0) page.Show(table);
        if (shown.Count < inspected.Channels.Count)
            page.Note($"{inspected.Channels.Count - shown.Count} more channels that Stillwatch does not use are left out here; --json lists all.");
        if (inspected.NoteTexts.Count > 0) page.Text(SourceNotes(inspected));
        if (recording.Annotations.Any(a => a.Origin != AnnotationOrigin.Source)) page.Text(OurNotes(recording));
        IssueList.Write(page, inspected.Loaded.Issues);
    }

    private static string SourceNotes(InspectedRecording inspected)
    {
        var recording = inspected.Loaded.Recording;
        var notes = recording.Annotations.Where(a => a.Origin == AnnotationOrigin.Source).ToList();
        string texts = string.Join("; ", inspected.NoteTexts.Take(TextsShown).Select(t => t.Count == 1 ? Shown(t.Text) : $"{Shown(t.Text)} ({t.Count:#,0} times)"));
        string more = inspected.NoteTexts.Count > TextsShown ? $"; and {Say.Count(inspected.NoteTexts.Count - TextsShown, "other text", "other texts")}" : string.Empty;
        return $"{Say.Count(notes.Count, "note", "notes")} of the source, the first at {recording.Start.ClockAt(notes[0].Time)}: {texts}{more}.";
    }

    // What an export took along must not be read as the monitor's word.
    private static string OurNotes(Recording recording)
    {
        (AnnotationOrigin Origin, string One, string Many)[] kinds =
        [
            (AnnotationOrigin.Event, "event", "events"),
            (AnnotationOrigin.ReplayedSignal, "signal of replayed settings", "signals of replayed settings"),
            (AnnotationOrigin.ReviewMark, "review mark", "review marks"),
            (AnnotationOrigin.Derived, "note on derived numbers", "notes on derived numbers"),
        ];
        var found = kinds.Select(k => (Count: recording.Annotations.Count(a => a.Origin == k.Origin), k.One, k.Many)).Where(k => k.Count > 0);
        return $"Written by Stillwatch, not by the source: {string.Join(", ", found.Select(k => Say.Count(k.Count, k.One, k.Many)))}.";
    }

    private static string Shown(string text) => text.Length <= TextLength ? $"\"{text}\"" : $"\"{text[..TextLength]}…\"";

    private static string Used(Recording recording)
    {
        if (recording.Channels.Count == 0) return "no signal in it that could be read, notes alone";
        string[] found = [.. recording.Channels.Where(c => c.Kind != ChannelKind.Other).Select(c => Say.Kind(c.Kind)).Distinct()];
        return recording.Find(ChannelKind.SpO2) is null
            ? "no SpO2 was recognised (name its column with --channel or --map)"
            : "holds " + string.Join(", ", found);
    }
}
