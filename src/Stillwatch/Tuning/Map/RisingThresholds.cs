namespace Stillwatch.Tuning.Map;

/// <summary>The delays (in milliseconds) or area thresholds (in micro-units × milliseconds) of a plane, rising.</summary>
internal sealed class RisingThresholds
{
    // Two runs of a year beyond any limit stay far below this; sums of two such areas still fit a long.
    private const long LargestAllowed = 4_000_000_000_000_000_000;

    private readonly long[] values;
    // 2⁶⁴ over the step, rounded up; 0: the steps differ, search instead. The high half of its product with a number below
    // 2³² is that number over the step, exactly (Lemire, Kaser, Kurz: Faster remainder by direct computation, 2019, from memory; a test holds it).
    private readonly ulong inverse;
    private readonly long first;

    /// <exception cref="ArgumentException">The list does not rise strictly from zero or above.</exception>
    public RisingThresholds(string what, IEnumerable<long> thresholds)
    {
        values = [.. thresholds];
        for (int i = 0; i < values.Length; i++)
        {
            if (values[i] is < 0 or > LargestAllowed || (i > 0 && values[i] <= values[i - 1]))
                throw new ArgumentException($"{what}: found {values[i]} at index {i}, expected values rising strictly from zero or above, at most {LargestAllowed}.");
        }

        first = values.Length > 0 ? values[0] : 0;
        Largest = values.Length > 0 ? values[^1] : -1;
        inverse = Inverse(values);
    }

    public int Count => values.Length;

    /// <summary>−1 where there is none.</summary>
    public long Largest { get; }

    public long this[int index] => values[index];

    public ReadOnlySpan<long> Values => values;

    /// <summary>The threshold at an index; past the last one a number that nothing exceeds.</summary>
    public long AtOrNever(int index) => index < values.Length ? values[index] : long.MaxValue;

    /// <summary>How many thresholds lie strictly below <paramref name="reached"/>: those that a run this long (or this large) exceeds.</summary>
    public int CountBelow(long reached)
    {
        if (reached > Largest) return values.Length;
        if (reached <= first) return 0;
        if (inverse > 0) return (int)Math.BigMul(inverse, (ulong)(reached - first - 1), out _) + 1;
        int index = Array.BinarySearch(values, reached);
        return index >= 0 ? index : ~index;
    }

    private static ulong Inverse(long[] values)
    {
        if (values.Length < 2 || values[^1] - values[0] > uint.MaxValue) return 0;
        long step = values[1] - values[0];
        for (int i = 2; i < values.Length; i++)
        {
            if (values[i] - values[i - 1] != step) return 0;
        }

        return step == 1 ? 0 : ulong.MaxValue / (ulong)step + 1;
    }
}
