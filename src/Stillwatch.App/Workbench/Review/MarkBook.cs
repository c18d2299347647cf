using Stillwatch.Storage;
using Stillwatch.Storage.Marks;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.App.Workbench.Review;

/// <summary>The review marks of one recording as one person at a page makes them, takes them back, and sees them.</summary>
internal sealed class MarkBook(IMarkStore store, RecordingId recording, Actor actor)
{
    private readonly List<(string Reviewer, long Added, StoredMark? Replaced)> done = [];
    private readonly Dictionary<long, long> putBack = []; // under which number a mark stands again that had another before

    /// <summary>Those that stand, of all reviewers.</summary>
    public IReadOnlyList<ReviewMark> All { get; private set; } = [];

    private IReadOnlyList<StoredMark> stored = [];

    /// <summary>Whether a mark that this reviewer made here may be taken back.</summary>
    public bool CanUndo(string reviewer) => done.Any(d => IsSame(d.Reviewer, reviewer));

    public async Task LoadAsync(CancellationToken cancellation = default)
    {
        stored = [.. (await store.OfAsync(recording, cancellation)).Where(m => m.Stands)];
        All = [.. stored.Select(m => m.Mark)];
    }

    public IReadOnlyList<ReviewMark> Of(string reviewer) => [.. All.Where(m => IsSame(m.Reviewer, reviewer))];

    /// <summary>Names of the others who marked it.</summary>
    public IReadOnlyList<string> Others(string reviewer) => [.. All.Select(m => m.Reviewer).Where(r => !IsSame(r, reviewer)).Distinct(StringComparer.OrdinalIgnoreCase)];

    /// <summary>Marks a stretch. An earlier mark of the same reviewer on the very same stretch is withdrawn: a changed mind is one opinion.</summary>
    public async Task MarkAsync(ReviewMark mark, CancellationToken cancellation = default)
    {
        await LoadAsync(cancellation); // another window may have marked meanwhile
        var earlier = stored.Where(m => IsSame(m.Mark.Reviewer, mark.Reviewer) && m.Mark.Span == mark.Span).ToList();
        foreach (var one in earlier) await store.WithdrawAsync(one.Number, actor, cancellation);
        long number = await store.AddAsync(recording, mark, actor, cancellation);
        done.Add((mark.Reviewer, number, earlier.Count > 0 ? earlier[^1] : null));
        await LoadAsync(cancellation);
    }

    /// <summary>Takes back the last mark that this reviewer made here, and puts what it replaced in its place again. Nobody takes back another's mark.</summary>
    /// <returns>The stretch that it was on; null: there was nothing to take back.</returns>
    public async Task<TimeSlice?> UndoAsync(string reviewer, CancellationToken cancellation = default)
    {
        await LoadAsync(cancellation);
        while (done.FindLastIndex(d => IsSame(d.Reviewer, reviewer)) is var last and >= 0)
        {
            var (_, number, replaced) = done[last];
            done.RemoveAt(last);
            while (putBack.TryGetValue(number, out long later)) number = later;
            if (stored.FirstOrDefault(m => m.Number == number) is not { } standing) continue; // another window took it back already
            await store.WithdrawAsync(number, actor, cancellation);
            if (replaced is not null) putBack[replaced.Number] = await store.AddAsync(recording, replaced.Mark, actor, cancellation);
            await LoadAsync(cancellation);
            return standing.Mark.Span;
        }

        return null;
    }

    /// <summary>A reviewer's word on a stretch: the most serious of the marks that touch it; null: none.</summary>
    public static ReviewMark? On(IEnumerable<ReviewMark> marks, TimeSlice span) => marks.Where(m => m.Touches(span.Start, span.End)).OrderBy(m => m.Verdict).FirstOrDefault();

    public static string InWords(MarkVerdict verdict) => verdict switch
    {
        MarkVerdict.RealAndSignificant => "significant",
        MarkVerdict.RealButNotSignificant => "real, not significant",
        MarkVerdict.Artefact => "artefact",
        _ => "cannot tell",
    };

    private static bool IsSame(string a, string b) => string.Equals(a.Trim(), b.Trim(), StringComparison.OrdinalIgnoreCase);
}
