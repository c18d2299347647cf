using Stillwatch.App.Jobs;
using Stillwatch.Oxygenation;
using Stillwatch.Reports.Model;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.App.Workbench.Review;

/// <summary>Which events a list shows.</summary>
public enum EventFilter
{
    All,
    MustCatch,

    /// <summary>Those on which no shown mark lies.</summary>
    NotMarked,
}

/// <summary>A line of the events list: a must-catch event, a desaturation event, or both at once.</summary>
/// <param name="Number">From 1, in time order.</param>
/// <param name="Span">What a mark on it covers.</param>
/// <param name="MustCatch">Null: settings may miss it.</param>
/// <param name="Fall">The fall of the greatest area that overlaps it; null: none does.</param>
/// <param name="Answer">What the settings in question made of it; null: none were replayed.</param>
public sealed record ListedEvent(int Number, TimeSlice Span, MustCatchEvent? MustCatch, DesaturationEvent? Fall, CatchAnswer? Answer)
{
    public decimal Nadir => MustCatch?.Nadir.Value ?? Fall!.Nadir.Value;

    /// <summary>As the agreement of reviewers wants it.</summary>
    public MustCatchEvent ForMarks => MustCatch ?? new MustCatchEvent(Span.Start, Span.End, Fall!.Nadir, []);

    /// <summary>All events of a review in time order. A fall that overlaps a must-catch event is the same line, so that nobody marks one thing twice.</summary>
    /// <param name="model">The review.</param>
    /// <param name="replay">The settings in question; null: none.</param>
    /// <param name="filter">Which of them; numbers stay those of the whole list.</param>
    /// <param name="marks">Marks that are shown.</param>
    public static IReadOnlyList<ListedEvent> Of(ReviewModel model, ReplayModel? replay, EventFilter filter = EventFilter.All, IReadOnlyList<ReviewMark>? marks = null)
    {
        var falls = model.Review.Events ?? [];
        var lines = new List<(TimeSlice Span, MustCatchEvent? MustCatch, DesaturationEvent? Fall, CatchAnswer? Answer)>();
        for (int i = 0; i < model.MustCatch.Count; i++)
        {
            var e = model.MustCatch[i];
            var span = new TimeSlice(e.Onset, e.End);
            lines.Add((span, e, falls.Where(f => SpanOf(f).Overlaps(span)).MaxBy(f => f.Area), replay?.Answers[i]));
        }

        lines.AddRange(falls.Where(f => !model.MustCatch.Any(e => SpanOf(f).Overlaps(new TimeSlice(e.Onset, e.End)))).Select(f => (SpanOf(f), (MustCatchEvent?)null, (DesaturationEvent?)f, (CatchAnswer?)null)));
        return
        [
            .. lines.OrderBy(l => l.Span.Start).ThenBy(l => l.Span.End).Select((l, i) => new ListedEvent(i + 1, l.Span, l.MustCatch, l.Fall, l.Answer))
                .Where(l => filter switch { EventFilter.MustCatch => l.MustCatch is not null, EventFilter.NotMarked => MarkBook.On(marks ?? [], l.Span) is null, _ => true }),
        ];
    }

    private static TimeSlice SpanOf(DesaturationEvent fall) => new(fall.Start, fall.End);
}
