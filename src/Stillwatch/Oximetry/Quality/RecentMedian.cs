namespace Stillwatch.Oximetry.Quality;

/// <summary>Median of the latest values, a fixed number of them.</summary>
internal sealed class RecentMedian(int length)
{
    private readonly double[] ring = new double[length], sorted = new double[length];
    private int count, next;

    /// <summary>NaN while there are fewer than three.</summary>
    public double Value
    {
        get
        {
            if (count < 3) return double.NaN;
            ring.AsSpan(0, count).CopyTo(sorted);
            sorted.AsSpan(0, count).Sort();
            return count % 2 == 1 ? sorted[count / 2] : (sorted[count / 2 - 1] + sorted[count / 2]) / 2;
        }
    }

    public void Add(double value)
    {
        ring[next] = value;
        next = (next + 1) % ring.Length;
        count = Math.Min(count + 1, ring.Length);
    }

    /// <summary>Adds a value, unless it is NaN, and gives the median; while there are fewer than three, the value itself.</summary>
    public double Take(double value)
    {
        if (!double.IsNaN(value)) Add(value);
        double median = Value;
        return double.IsNaN(median) ? value : median;
    }

    public void Clear() => count = next = 0;
}
