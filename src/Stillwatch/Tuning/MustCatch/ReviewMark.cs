using Stillwatch.Time;

namespace Stillwatch.Tuning.MustCatch;

/// <summary>What a reviewer says of an event, from the most to the least serious.</summary>
public enum MarkVerdict
{
    RealAndSignificant,
    RealButNotSignificant,
    CannotTell,
    Artefact,
}

/// <summary>A reviewer's mark on a moment or a stretch of a recording.</summary>
public sealed record ReviewMark
{
    /// <exception cref="ArgumentException">No reviewer, or the span ends before it starts.</exception>
    public ReviewMark(string reviewer, TimeSlice span, MarkVerdict verdict, string note = "")
    {
        if (string.IsNullOrWhiteSpace(reviewer))
            throw new ArgumentException($"Review mark at {span.Start}: found no reviewer, expected a name: two reviewers count only if they can be told apart.", nameof(reviewer));
        if (span.End < span.Start)
            throw new ArgumentException($"Review mark of {reviewer}: found a span from {span.Start} to {span.End}, expected the start first.", nameof(span));
        Reviewer = reviewer.Trim();
        Span = span;
        Verdict = verdict;
        Note = note;
    }

    /// <summary>Who; the same name in capitals or with blanks around it is the same reviewer.</summary>
    public string Reviewer { get; }

    /// <summary>[Start, End); a moment where both are equal.</summary>
    public TimeSlice Span { get; }

    public MarkVerdict Verdict { get; }

    /// <summary>In the reviewer's own words; may be empty.</summary>
    public string Note { get; }

    public bool IsMoment => Span.Start == Span.End;

    /// <summary>Whether it says anything of a stretch [onset, end).</summary>
    public bool Touches(SampleTime onset, SampleTime end) => IsMoment ? onset <= Span.Start && Span.Start < end : Span.Start < end && onset < Span.End;

    /// <summary>Whether it speaks of all of a stretch: a moment in it does; a span must reach over it, give or take a second, because side files often hold whole seconds.</summary>
    public bool Covers(SampleTime onset, SampleTime end) => Touches(onset, end)
        && (IsMoment || (Span.Start <= onset + WholeSecond && end <= Span.End + WholeSecond));

    private static readonly Duration WholeSecond = Duration.FromSeconds(1);
}
