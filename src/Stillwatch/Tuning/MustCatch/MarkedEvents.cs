using Stillwatch.Conditioning;
using Stillwatch.Time;

namespace Stillwatch.Tuning.MustCatch;

/// <summary>What marks made of one event.</summary>
public enum MarkOutcome
{
    /// <summary>Must-catch by definition, and stays so.</summary>
    Kept,

    /// <summary>Two reviewers agree that it is an artefact.</summary>
    Removed,

    /// <summary>Must-catch because it was marked significant.</summary>
    Added,
}

/// <summary>What became of one event that has marks, and why.</summary>
public sealed record MarkDecision(MustCatchEvent Event, MarkOutcome Outcome, string Because);

/// <summary>A mark that changed nothing, and why.</summary>
public sealed record UnusedMark(ReviewMark Mark, string Because);

/// <summary>Must-catch events after the reviewers had their say (rules R13 and R14.3).</summary>
/// <param name="Events">In time order: kept, added, and those without marks.</param>
/// <param name="Decisions">One for every event with a mark.</param>
/// <param name="Unused">Marks that speak of no event and add none.</param>
/// <param name="Agreement">Pair by pair of reviewers.</param>
public sealed record MarkedResult(
    IReadOnlyList<MustCatchEvent> Events,
    IReadOnlyList<MarkDecision> Decisions,
    IReadOnlyList<UnusedMark> Unused,
    IReadOnlyList<ReviewerAgreement> Agreement);

/// <summary>Applies review marks to must-catch events.</summary>
/// <remarks>
/// <para>An event is removed only where at least two reviewers of different names mark all of it as artefact and no other
/// reviewer who marked it says otherwise: one artefact mark never removes it, disagreement counts as real, and "cannot tell"
/// keeps it, because nobody has shown that it was none. A reviewer with several marks on one event is taken by the most serious.</para>
/// <para>"Real and significant" adds an event where there is none. Where an event by definition begins within T of the mark's
/// start, the mark confirms it: the measured onset is the better one. A mark that begins earlier than that adds its own part, and
/// settings must answer for both. A marked moment stands for the T after it.</para>
/// </remarks>
public static class MarkedEvents
{
    private const string MarkedBecause = "marked significant";

    /// <summary>T of an event marked significant. Unit policy, no source.</summary>
    public static readonly Duration DefaultWithin = Duration.FromSeconds(60);

    /// <param name="series">From <see cref="MustCatchFinder.SeriesFor"/>.</param>
    /// <param name="events">By definition, from <see cref="MustCatchFinder"/>.</param>
    /// <param name="marks">In any order.</param>
    /// <param name="within">T of an event marked significant; null: <see cref="DefaultWithin"/>.</param>
    public static MarkedResult Apply(ConditionedSeries series, IReadOnlyList<MustCatchEvent> events, IReadOnlyList<ReviewMark> marks, Duration? within = null)
    {
        var allowed = within ?? DefaultWithin;
        var unused = new List<UnusedMark>();
        var placed = new List<(ReviewMark Given, ReviewMark Placed)>();
        var parts = events.SelectMany(e => e.Parts.Select(p => (Part: p, NadirMicro: e.Nadir.Micro))).ToList();
        foreach (var mark in marks)
        {
            if (mark.Verdict != MarkVerdict.RealAndSignificant || events.Any(e => mark.Touches(e.Onset, e.End) && e.Onset <= mark.Span.Start + allowed))
                placed.Add((mark, mark));
            else if (AddedPart(series, mark, allowed) is { } added)
            {
                parts.Add(added);
                placed.Add((mark, new ReviewMark(mark.Reviewer, new TimeSlice(added.Part.Onset, added.Part.End), mark.Verdict, mark.Note)));
            }
            else
                unused.Add(new UnusedMark(mark, "Marked significant, but no valid value lies within it: no setting could have signalled. Look at it as possibly hypoxaemic."));
        }

        var all = MustCatchFinder.Merge(parts);
        var kept = new List<MustCatchEvent>();
        var decisions = new List<MarkDecision>();
        ReviewMark[] standing = [.. placed.Select(p => p.Placed)];
        foreach (var candidate in all)
        {
            var touching = standing.Where(m => m.Touches(candidate.Onset, candidate.End)).ToList();
            var decision = touching.Count > 0 ? Decide(candidate, touching) : null;
            if (decision is not null) decisions.Add(decision);
            if (decision?.Outcome != MarkOutcome.Removed) kept.Add(candidate);
        }

        unused.AddRange(placed
            .Where(p => !all.Any(e => p.Placed.Touches(e.Onset, e.End)))
            .Select(p => new UnusedMark(p.Given, "There is no must-catch event where it stands.")));
        return new MarkedResult(kept, decisions, unused, ReviewerAgreement.Between(all, standing));
    }

    /// <summary>Null where nothing valid lies within the mark: no setting could have signalled, so that it would only ever count as missed.</summary>
    private static (MustCatchPart Part, int NadirMicro)? AddedPart(ConditionedSeries series, ReviewMark mark, Duration within)
    {
        var end = mark.IsMoment ? mark.Span.Start + within : mark.Span.End;
        if (LowestBetween(series, mark.Span.Start, end) is not { } lowest) return null;
        var onset = lowest.FirstSample > mark.Span.Start ? lowest.FirstSample : mark.Span.Start;
        return (new MustCatchPart(onset, end < series.End ? end : series.End, within, $"{MarkedBecause} by {mark.Reviewer}"), lowest.Micro);
    }

    private static (SampleTime FirstSample, int Micro)? LowestBetween(ConditionedSeries series, SampleTime start, SampleTime end)
    {
        (SampleTime FirstSample, int Micro)? lowest = null;
        foreach (var piece in series.Pieces)
        {
            if (piece.End <= start) continue;
            if (piece.Start >= end) break;
            lowest = lowest is { } found ? found with { Micro = Math.Min(found.Micro, piece.Micro) } : (piece.Start, piece.Micro);
        }

        return lowest;
    }

    private static MarkDecision Decide(MustCatchEvent candidate, IReadOnlyList<ReviewMark> touching)
    {
        bool byDefinition = candidate.Parts.Any(p => !p.Because.StartsWith(MarkedBecause, StringComparison.Ordinal));
        var stays = byDefinition ? MarkOutcome.Kept : MarkOutcome.Added;
        var verdicts = VerdictsOn(candidate, touching);
        var artefact = verdicts.Where(v => v.Value == MarkVerdict.Artefact).Select(v => v.Key).ToList();
        var real = verdicts.Where(v => v.Value <= MarkVerdict.RealButNotSignificant).Select(v => v.Key).ToList();
        var undecided = verdicts.Where(v => v.Value == MarkVerdict.CannotTell).Select(v => v.Key).ToList();
        if (real.Count > 0 && artefact.Count > 0)
            return new MarkDecision(candidate, stays, $"{Names(artefact)}: artefact; {Names(real)}: real. Disagreement counts as real.");
        if (real.Count > 0)
            return new MarkDecision(candidate, stays, $"{Names(real)}: real.");
        if (undecided.Count > 0)
            return new MarkDecision(candidate, stays, $"{Names(undecided)}: cannot tell. Only agreement on an artefact removes an event.");
        if (artefact.Count >= 2)
            return new MarkDecision(candidate, MarkOutcome.Removed, $"{Names(artefact)} agree: artefact.");
        return new MarkDecision(candidate, stays, artefact.Count == 1
            ? $"{Names(artefact)}: artefact. One artefact mark never removes an event."
            : "Marked as artefact in part only: an artefact mark counts for an event when it covers all of it.");
    }

    /// <summary>Each reviewer's most serious verdict; artefact only where the mark covers the whole event.</summary>
    internal static Dictionary<string, MarkVerdict> VerdictsOn(MustCatchEvent candidate, IEnumerable<ReviewMark> marks)
    {
        var verdicts = new Dictionary<string, MarkVerdict>(StringComparer.OrdinalIgnoreCase);
        foreach (var mark in marks)
        {
            if (!mark.Touches(candidate.Onset, candidate.End)) continue;
            if (mark.Verdict == MarkVerdict.Artefact && !mark.Covers(candidate.Onset, candidate.End)) continue;
            verdicts[mark.Reviewer] = verdicts.TryGetValue(mark.Reviewer, out var before) && before < mark.Verdict ? before : mark.Verdict;
        }

        return verdicts;
    }

    private static string Names(IEnumerable<string> reviewers) => string.Join(", ", reviewers.Order(StringComparer.OrdinalIgnoreCase));
}
