using Stillwatch.App.Pages;
using Stillwatch.Conditioning;
using Stillwatch.Formats.Exports;
using Stillwatch.Oxygenation;
using Stillwatch.Replay;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.App.Jobs;

/// <summary>Events, signals and review marks as annotations of an export, in plain words with their units.</summary>
internal static class ExportFinder
{
    /// <param name="loaded">The recording.</param>
    /// <param name="conditioning">How values are made before events are looked for.</param>
    /// <param name="side">Settings to replay, must-catch definitions, marks.</param>
    /// <param name="withEvents">Whether to look for events.</param>
    /// <param name="secret">Where the export is de-identified: no name of a settings set, a definition or a reviewer is written, nor what a reviewer wrote.</param>
    public static ExportFindings Find(LoadedRecording loaded, ConditioningSettings conditioning, SideFiles side, bool withEvents, LinkageSecret? secret)
    {
        var notes = new List<Annotation>();
        MustCatchDefinition? definition = null;
        bool hasDesaturations = false;
        string? whyNot = null;
        if (withEvents && ReviewJob.SpO2Of(loaded, conditioning, out whyNot) is { } source)
        {
            var events = RecordingReviewer.Review(loaded.Recording, source, conditioning, new ReviewOptions(null)).Events;
            hasDesaturations = events is not null;
            whyNot = events is null ? $"desaturation events are not defined for a value every {source.Channel.Times.Period}" : null;
            notes.AddRange((events ?? []).Select(Desaturation));
            definition = ReviewJob.DefinitionFor(loaded, side);
            notes.AddRange(ReviewJob.MustCatch(loaded, source, conditioning, definition, side).Events.Select(MustCatch));
            if (secret is not null && side.MustCatch is not null) definition = definition with { Name = "definition given", Source = DeIdentified.TextLeftOut };
        }

        // The reason names a channel by its label, which may hold a name.
        if (secret is not null && whyNot is not null && definition is null) whyNot = "no SpO2 channel with a valid value";

        var settings = side.Settings is { } file ? SideFiles.SetFor(file, loaded.Category) : null;
        if (settings is not null)
        {
            notes.AddRange(Replayer.Run(loaded.Recording, settings.Settings).Signals.Select(s => Signal(s, secret is null ? settings.Name : null)));
            if (secret is not null) settings = settings with { Name = "settings given" };
        }

        notes.AddRange((side.Marks?.MarksOn(loaded.File.Name) ?? []).Select(m => Mark(m, secret)));
        return new ExportFindings([.. notes.OrderBy(n => n.Time)], definition, settings, hasDesaturations, whyNot);
    }

    private static Annotation Desaturation(DesaturationEvent e) => new(
        e.Start, e.Length,
        $"desaturation event: from {e.Baseline.Value:0.#} % to {e.Nadir.Value:0.#} %, {e.Depth.Value:0.#} points deep, area {e.Area.Value:0} %·s", AnnotationOrigin.Event);

    private static Annotation MustCatch(MustCatchEvent e) => new(
        e.Onset, e.End - e.Onset,
        $"must-catch event: lowest {e.Nadir.Value:0.#} %; {string.Join("; ", e.Parts.Select(p => p.Because).Distinct())}", AnnotationOrigin.Event);

    private static Annotation Signal(ReplayedSignal s, string? settings) => new(
        s.Start, s.End - s.Start,
        $"signal: {Say.Condition(s.Condition)}, {s.HighestPriority.ToString().ToLowerInvariant()} priority, active for {s.Active.Seconds:0.###} s, {Ending(s)}, under {(settings is null ? "the settings replayed" : $"\"{settings}\"")}",
        AnnotationOrigin.ReplayedSignal);

    private static Annotation Mark(ReviewMark m, LinkageSecret? secret)
    {
        string reviewer = secret?.ReviewerPseudonym(m.Reviewer) ?? m.Reviewer;
        string note = m.Note.Length == 0 ? string.Empty : secret is null ? $": {m.Note}" : $" {DeIdentified.TextLeftOut}";
        return new Annotation(m.Span.Start, m.Span.Length, $"review mark: {Verdict(m.Verdict)}, by {reviewer}{note}", AnnotationOrigin.ReviewMark);
    }

    private static string Ending(ReplayedSignal s) => s.Ending switch
    {
        Alarms.SignalEnding.Cleared => "ended by a value at or beyond its limit and margin",
        Alarms.SignalEnding.Lost => "ended with the value lost",
        _ => "ended with the recording",
    };

    private static string Verdict(MarkVerdict verdict) => verdict switch
    {
        MarkVerdict.RealAndSignificant => "real and significant",
        MarkVerdict.RealButNotSignificant => "real but not significant",
        MarkVerdict.Artefact => "artefact",
        _ => "cannot tell",
    };
}
