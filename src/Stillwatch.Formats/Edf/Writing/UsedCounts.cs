using System.Collections;

namespace Stillwatch.Formats.Edf.Writing;

/// <summary>Which counts the numbers of a channel take, so that the codes for rows without a number are not among them.</summary>
/// <remarks>The two lowest counts are the codes wherever they are free. A converter that reaches them makes us look for others: two megabytes at most.</remarks>
internal sealed class UsedCounts(SampleWidth width)
{
    private readonly BitArray used = new(width.Highest - width.Lowest + 1);

    public void Add(int count) => used[count - width.Lowest] = true;

    /// <summary>The two lowest that are free; null where there are none.</summary>
    public (int NoNumber, int NoRow)? Codes()
    {
        int? first = null;
        for (int i = 0; i < used.Length; i++)
        {
            if (used[i]) continue;
            if (first is { } known) return (known, width.Lowest + i);
            first = width.Lowest + i;
        }

        return null;
    }
}
