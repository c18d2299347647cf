using Stillwatch.Conditioning;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Reports.Handover;

/// <summary>What pages to hand over say of a recording.</summary>
internal static class RecordingNumbers
{
    public static string About(RecordingSection section)
    {
        var clock = new Clock(section.Recording.Start);
        string when = section.SpO2 is not { } s ? "" : section.Recording.Start.IsKnown ? $"; {clock.WithDayAt(s.Start)} to {clock.WithDayAt(s.End)}" : "; the time of day is not known";
        return $"{section.Recording.Name}; {Words.Of(section.Category, section.IsCategoryAssumed)}{when}";
    }

    public static IReadOnlyList<Tile> Tiles(RecordingSection section)
    {
        if (section.Review is not { } review) return [];
        var tiles = new List<Tile>
        {
            new("Valid SpO2", Words.Span(review.Valid), $"{Words.Share(review.Coverage)} of {Words.Span(review.Monitored)}"),
            new("Lowest SpO2", Words.Saturation(review.Exposure.Minimum), $"median {Words.Saturation(review.Exposure.Median)}"),
        };
        foreach (var below in review.Exposure.Below.Take(2)) tiles.Add(new Tile($"Below {Words.Saturation(below.Level)}", Words.Span(below.Time), $"{Words.Share(below.PercentOfValid / 100)} of valid time"));
        tiles.Add(new Tile("Falls of 3 points", review.Events is { } events ? Words.Number(events.Count, 0) : "–", review.Exposure.Odi3 is { } odi ? $"{Words.Number(odi, 1)} an hour (ODI3)" : "does not apply"));
        tiles.Add(new Tile("Must-catch events", Words.Number(section.MustCatch.Count, 0), Caught(section)));
        return tiles;
    }

    public static string Caught(RecordingSection section)
    {
        if (section.MustCatch.Count == 0) return "";
        var answers = section.MustCatch.Select(m => m.Present).OfType<CatchAnswer>().ToList();
        if (answers.Count == 0) return "no settings to judge";
        int late = answers.Count(a => a.Verdict == CatchVerdict.Late), missed = answers.Count(a => a.Verdict == CatchVerdict.Missed);
        string under = section.ReplayedName is { } name ? SettingsWords.Quoted(name) : "present settings";
        return late + missed == 0 ? $"{under}: all in time" : $"{under}: {answers.Count - late - missed} in time, {late} late, {missed} missed";
    }

    /// <summary>Averaging, coverage and definitions: on every output.</summary>
    public static IEnumerable<Block> Method(RecordingSection section)
    {
        var conditioning = section.Conditioning;
        string ours = conditioning.Averaging > Duration.Zero ? Words.Span(conditioning.Averaging) : "none";
        string coverage = section.SpO2 is { } s ? $"{Words.Span(s.Valid)} of {Words.Span(s.Connected)} valid ({Words.Share(s.Coverage)})" : "no SpO2";
        yield return new Block.Fine($"Averaging: by the monitor {section.Recording.SourceAveraging}; ours {ours}. Coverage: {coverage}. "
            + $"{(conditioning.Validity == ValidityRule.Standard ? "Doubtful values left out" : "Every number counts as it stands")}{(conditioning.Rounding == Rounding.Display ? ", rounded as displayed" : ", not rounded")}. Times are {new Clock(section.Recording.Start).Caption}.");
        if (section.Review is { } review) yield return new Block.Fine($"Definitions: {WithoutDelta(review.Definition)}");
        if (section.MustCatch.Count > 0)
            yield return new Block.Fine($"Must-catch events here: {string.Join("; ", section.MustCatch.SelectMany(m => m.Event.Parts).Select(p => p.Because).Distinct())}.");
        if (section.PresentSettings is { } settings)
            yield return new Block.Fine($"{char.ToUpperInvariant(SettingsWords.Of(section)[0])}{SettingsWords.Of(section)[1..]}: {string.Join("; ", SettingsWords.Lines(settings))}.");
    }

    // The Δ index stands nowhere on these pages.
    private static string WithoutDelta(string definition)
    {
        int at = definition.IndexOf("Δ index", StringComparison.Ordinal);
        if (at < 0) return definition;
        int end = definition.IndexOf(". ", at, StringComparison.Ordinal);
        return end < 0 ? definition[..at].TrimEnd() : definition[..at] + definition[(end + 2)..];
    }
}
