using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Tuning.Proposals;

/// <summary>Every candidate of one search in a fixed order, the present settings among them where they are known.</summary>
public sealed class CandidateGrid
{
    private readonly bool[] insideBounds;

    private CandidateGrid(List<CandidateSettings> candidates, int? presentIndex, SearchBounds bounds)
    {
        Candidates = candidates;
        PresentIndex = presentIndex;
        Bounds = bounds;
        insideBounds = [.. candidates.Select(bounds.Allow)];
    }

    public IReadOnlyList<CandidateSettings> Candidates { get; }

    public int Count => Candidates.Count;

    /// <summary>Where the present settings stand; null when they are not known.</summary>
    public int? PresentIndex { get; }

    public SearchBounds Bounds { get; }

    /// <summary>Whether a candidate may be proposed at all (R14.5); the rest may be looked at.</summary>
    public bool IsInsideBounds(int index) => insideBounds[index];

    /// <summary>A settings map has cells for a delay or an area threshold, not for both together: those take a run of the engine.</summary>
    public static bool HasCell(CandidateSettings settings) => settings.SpO2Low.Delay == Duration.Zero || settings.SpO2Low.AreaThreshold == Area.Zero;

    /// <summary>Settings that somebody asked about, in the order given.</summary>
    public static CandidateGrid Of(IReadOnlyList<CandidateSettings> asked, SearchBounds bounds) => new([.. asked], null, bounds);

    public static CandidateGrid Of(CategorySearch search, CandidateSettings? present)
    {
        var axes = search.Axes;
        var candidates = new List<CandidateSettings>();
        foreach (var averaging in axes.Averagings)
        {
            foreach (var backstop in axes.Backstops)
            {
                foreach (var limit in axes.Limits)
                {
                    foreach (var delay in axes.Delays)
                        candidates.Add(new(new LimitSettings<Percent>(limit, delay, Area.Zero, axes.ClearMargin), backstop, averaging));
                    foreach (var area in axes.Areas.Where(a => a > Area.Zero))
                        candidates.Add(new(new LimitSettings<Percent>(limit, Duration.Zero, area, axes.ClearMargin), backstop, averaging));
                }
            }
        }

        candidates = [.. candidates.Distinct()];
        if (present is null) return new CandidateGrid(candidates, null, search.Bounds);
        int index = candidates.IndexOf(present);
        if (index < 0)
        {
            index = candidates.Count;
            candidates.Add(present);
        }

        return new CandidateGrid(candidates, index, search.Bounds);
    }
}
