using Stillwatch.Conditioning;
using Stillwatch.Quantities;

namespace Stillwatch.Oxygenation;

/// <summary>
/// The falls under way at one moment: each remembers where it began and the mean of the 120 s before that. A fall is
/// forgotten when the value is back at its beginning, or within half a point of its mean, or after 120 s.
/// </summary>
/// <param name="pieces">The series.</param>
/// <param name="means">See <see cref="BaselineMeans"/>.</param>
internal sealed class FallCandidates(IReadOnlyList<ConditionedSeries.Piece> pieces, int[] means)
{
    private readonly List<Fall> falls = [];

    /// <param name="Onset">Index of the first piece of the fall.</param>
    /// <param name="Baseline">Mean before it, in millionths.</param>
    /// <param name="From">What the depth is measured from: the mean, or the value just before the fall where that is lower (a slow drift is no fall).</param>
    public readonly record struct Fall(int Onset, int Baseline, int From);

    public void Clear() => falls.Clear();

    /// <summary>Takes in the next piece.</summary>
    /// <param name="index">Of the piece.</param>
    /// <param name="earliestOnset">No fall may begin before this piece.</param>
    /// <param name="fromItsMeanOnly">Only falls that begin at or above the mean before them.</param>
    public void Observe(int index, int earliestOnset, bool fromItsMeanOnly)
    {
        var piece = pieces[index];
        if (piece.Arrival == Arrival.BackTooLate) falls.Clear();
        long oldest = piece.Start.Milliseconds - DesaturationDefinition.BaselineWindow.Milliseconds;
        falls.RemoveAll(f => pieces[f.Onset].Start.Milliseconds < oldest || piece.Micro >= f.From || IsNear(piece.Micro, f.Baseline));
        if (Begin(index, earliestOnset) is not { } fall) return;
        if (fromItsMeanOnly && fall.From < fall.Baseline) return;
        // An older fall from a lower or equal level can never be confirmed before this one.
        falls.RemoveAll(f => f.From <= fall.From);
        falls.Add(fall);
    }

    /// <summary>The fall, of those under way, from the highest level, if the piece lies at least this far below.</summary>
    public Fall? Confirmed(int index, Percent fall)
    {
        Fall? highest = null;
        foreach (var f in falls)
            if (highest is not { } h || f.From > h.From)
                highest = f;
        return highest is { } top && (long)top.From - pieces[index].Micro >= fall.Micro ? top : null;
    }

    private Fall? Begin(int index, int earliestOnset)
    {
        var piece = pieces[index];
        if (means[index] == BaselineMeans.None || IsNear(piece.Micro, means[index])) return null;
        // After a loss nobody saw the fall: it is taken to begin at the return.
        if (piece.Arrival != Arrival.Continues) return new Fall(index, means[index], means[index]);
        if (piece.Micro >= pieces[index - 1].Micro) return null;
        int onset = index;
        while (onset - 1 > earliestOnset && IsItsBeginning(onset - 1)) onset--;
        return new Fall(onset, means[onset], Math.Min(means[onset], pieces[onset - 1].Micro));
    }

    private static bool IsNear(int micro, int mean) => (long)mean - micro < DesaturationDefinition.OnsetMicro;

    /// <summary>
    /// Already on its way down from the mean, faster than a drift (3 % in 120 s), but not yet half a point below it. What lies
    /// further below has begun a fall of its own, from a higher level, that stands until it is forgotten.
    /// </summary>
    private bool IsItsBeginning(int index) =>
        pieces[index].Arrival == Arrival.Continues
        && ((long)pieces[index - 1].Micro - pieces[index].Micro) * DesaturationDefinition.BaselineWindow.Milliseconds
            >= DesaturationDefinition.Fall.Micro * pieces[index].Length.Milliseconds
        && means[index] != BaselineMeans.None
        && pieces[index].Micro < means[index]
        && IsNear(pieces[index].Micro, means[index]);
}
