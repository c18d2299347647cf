using Stillwatch.Time;

namespace Stillwatch.Storage.Samples;

/// <summary>
/// How finely the levels above a channel's samples are cut: an entry of level 1 is <see cref="Factor"/> typical steps long, one of the
/// next level <see cref="Factor"/> entries of the level before. Cut by time and not by rows, so that a gap is nowhere drawn over.
/// </summary>
/// <param name="EntryMilliseconds">The length of an entry of level 1.</param>
/// <param name="Levels">How many levels there are; 0: the samples are few enough by themselves.</param>
internal readonly record struct PyramidShape(long EntryMilliseconds, int Levels)
{
    public const int Factor = 64;

    public static PyramidShape Of(TimeAxis axis)
    {
        if (axis.Count <= Factor) return new PyramidShape(1, 0);
        long span = (axis.Last - axis.First).Milliseconds;
        // A declared period may be far from the truth; the mean step is not, and the lesser of both is at least not too coarse.
        long step = Math.Max(1, Math.Min(axis.Period.Milliseconds, span / (axis.Count - 1)));
        long entry = checked(step * Factor);
        int levels = 0;
        for (long width = entry; ; width *= Factor)
        {
            levels++;
            if (span / width < Factor) return new PyramidShape(entry, levels);
        }
    }

    // Each level is 2⁶ times as long as the one below, and times are whole milliseconds within 64 bits.
    private const int MostLevels = 11;

    /// <summary>Whether any time axis has this shape.</summary>
    public bool IsPossible => EntryMilliseconds >= 1 && Levels is >= 0 and <= MostLevels;

    /// <summary>The length of an entry of a level, from 1.</summary>
    public long WidthOf(int level)
    {
        long width = EntryMilliseconds;
        for (int i = 1; i < level; i++) width *= Factor;
        return width;
    }

    /// <summary>The coarsest level whose entries are not longer than a column; 0: none is, so the samples themselves.</summary>
    public int LevelFor(long milliseconds, int columns)
    {
        int level = 0;
        while (level < Levels && WidthOf(level + 1) <= milliseconds / columns) level++;
        return level;
    }
}
