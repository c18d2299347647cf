using Stillwatch.Reports.Handover;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Page;
using Stillwatch.Reports.Wording;

namespace Stillwatch.Reports;

/// <summary>The pages that are handed over. Each is composed once and can then be written as HTML and as PDF.</summary>
public static class HandoverPages
{
    private const int EventsAtMost = 6;

    /// <summary>One recording: what happened, in a sentence, in numbers, as a picture, and the deepest events.</summary>
    public static HandoverDocument Recording(RecordingPageModel model)
    {
        var section = model.Recording;
        var blocks = new List<Block>();
        var report = new ReportModel { Title = model.Title, Recordings = [section], Provenance = model.Provenance };
        if (Cautions.AdultAssumed(report) is { } assumed) blocks.Add(new Block.Warning(assumed));
        blocks.Add(new Block.Lead(Answers.WhatHappened(report)));
        blocks.Add(new Block.Tiles(RecordingNumbers.Tiles(section)));
        if (model.Remarks.Count > 0)
        {
            blocks.Add(new Block.Name("Noted by whoever hands over"));
            blocks.Add(new Block.Points(model.Remarks));
        }

        blocks.Add(new Block.Drawn(Pictures.Overview(section, "overview"), "", 0.96));
        if (section.Review is { Hours.Count: > 1 } review) blocks.Add(new Block.Drawn(Pictures.HourStrip(review.Hours, section.Recording.Start, "hours"), "Minutes below each level, hour by hour", 0.82));
        Events(blocks, model);
        blocks.Add(new Block.Heading("How these numbers were made"));
        blocks.AddRange(RecordingNumbers.Method(section));
        blocks.AddRange(HandoverWords.Origin(model.Provenance));
        return Made(model.Title, RecordingNumbers.About(section), Paper.A4, model.IsInvented, model.Provenance, blocks);
    }

    /// <summary>A settings decision: what, on which evidence, what speaks against it, who accepted it, until when.</summary>
    public static HandoverDocument Decision(DecisionModel model) =>
        Made(model.Title, model.Scope, Paper.A4, model.IsInvented, model.Provenance, DecisionPage.Compose(model));

    /// <summary>The settings card, on A5: a reason beside each number, what differs from the unit's default, until when.</summary>
    public static HandoverDocument SettingsCard(SettingsCardModel model) =>
        Made(model.IsStart ? $"Starting settings: {model.For}" : $"Settings: {model.For}", model.About, Paper.A5, model.IsInvented, model.Provenance, CardPage.Compose(model));

    /// <summary>The shift summary: what happened, what was changed and why, what to watch, what is pending.</summary>
    public static HandoverDocument ShiftSummary(ShiftSummaryModel model) =>
        Made(model.Title, model.Period, Paper.A4, model.IsInvented, model.Provenance, ShiftPage.Compose(model));

    private static HandoverDocument Made(string title, string about, Paper paper, bool isInvented, Provenance provenance, IEnumerable<Block> blocks) =>
        new(title, about, paper, isInvented, provenance.Software,
            [.. blocks.Where(b => b is not (Block.Drawn { Picture.IsEmpty: true } or Block.Tiles { Items.Count: 0 } or Block.Points { Items.Count: 0 }))]);

    private static void Events(List<Block> blocks, RecordingPageModel model)
    {
        var section = model.Recording;
        var clock = new Clock(section.Recording.Start);
        if (section.MustCatch.Count > 0)
        {
            bool isAnswered = section.MustCatch.Any(m => m.Present is not null); // a column of dashes would only ask what it is for
            var deepest = section.MustCatch.Select((m, i) => (Outcome: m, Number: i + 1)).OrderBy(m => m.Outcome.Event.Nadir.Micro).Take(EventsAtMost).OrderBy(m => m.Number).ToList();
            string of = deepest.Count < section.MustCatch.Count ? $"; the {deepest.Count} deepest of {section.MustCatch.Count}" : "";
            blocks.Add(new Block.Grid($"Must-catch events{of}", ["Number", "Onset", "Lasted", "Lowest", .. isAnswered ? ["Under the settings"] : Array.Empty<string>(), .. model.Marks.Count > 0 ? ["Marks"] : Array.Empty<string>()],
                [.. deepest.Select(m => (IReadOnlyList<string>)
                [
                    Words.Number(m.Number, 0), clock.WithDayAt(m.Outcome.Event.Onset), Words.Span(m.Outcome.Event.End - m.Outcome.Event.Onset), Words.Saturation(m.Outcome.Event.Nadir), .. isAnswered ? [Answer(m.Outcome.Present)] : Array.Empty<string>(),
                    .. model.Marks.Count > 0 ? [MarksOn(model, m.Outcome)] : Array.Empty<string>(),
                ])], 6));
        }
        else if (section.Review?.Events is { Count: > 0 } falls)
        {
            var deepest = falls.OrderByDescending(f => f.Depth.Micro).Take(EventsAtMost).OrderBy(f => f.Start).ToList();
            string of = deepest.Count < falls.Count ? $"; the {deepest.Count} deepest of {falls.Count}" : "";
            blocks.Add(new Block.Grid($"Falls of 3 points or more{of}", ["Start", "Lasted", "Lowest", "Depth"],
                [.. deepest.Select(f => (IReadOnlyList<string>)[clock.WithDayAt(f.Start), Words.Span(f.Length), Words.Saturation(f.Nadir), $"{Words.Number((double)f.Depth.Value, 0)}\u00a0points"])], 1));
        }
    }

    private static string MarksOn(RecordingPageModel model, MustCatchOutcome outcome)
    {
        var touching = model.Marks.Where(m => m.Touches(outcome.Event.Onset, outcome.Event.End)).ToList();
        return touching.Count == 0 ? "none" : string.Join("; ", touching.Select(m => $"{m.Reviewer}: {Plots.VerdictFlag.WordsOf(m.Verdict).ToLowerInvariant()}"));
    }

    private static string Answer(CatchAnswer? answer) => answer switch
    {
        null => "–",
        { TimeToSignal: { } time } when time <= Time.Duration.Zero => $"{Words.Of(answer.Verdict)}, already on",
        { TimeToSignal: { } time } => $"{Words.Of(answer.Verdict)}, after {Words.Span(time)}",
        _ => Words.Of(answer.Verdict),
    };
}
