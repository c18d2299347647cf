namespace Stillwatch.Dsp;

/// <summary>Medians of short stretches in place, for loops that must not allocate.</summary>
public static class Medians
{
    /// <summary>The middle value, or the mean of the middle two; leaves the values sorted. NaN where there are none, or where one of them is NaN.</summary>
    public static double InPlace(Span<double> values)
    {
        if (values.Length == 0) return double.NaN;
        values.Sort(); // NaN goes first
        int middle = values.Length / 2;
        if (double.IsNaN(values[0])) return double.NaN;
        return values.Length % 2 == 1 ? values[middle] : values[middle - 1] + (values[middle] - values[middle - 1]) / 2;
    }

    /// <summary>The median around each value: of it and up to <paramref name="reach"/> on each side, fewer at the ends.</summary>
    /// <param name="values">Without NaN.</param>
    /// <param name="reach">At most 32.</param>
    /// <param name="medians">As long as <paramref name="values"/>, and not the same memory.</param>
    public static void Around(ReadOnlySpan<double> values, int reach, Span<double> medians)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(reach);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(reach, 32);
        Span<double> near = stackalloc double[2 * reach + 1];
        for (int i = 0; i < values.Length; i++)
        {
            int from = Math.Max(0, i - reach), to = Math.Min(values.Length, i + reach + 1);
            values[from..to].CopyTo(near);
            medians[i] = InPlace(near[..(to - from)]);
        }
    }
}
