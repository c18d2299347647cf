namespace Stillwatch.Dsp;

/// <summary>The straight line of least squares through even samples.</summary>
public static class StraightLine
{
    /// <summary>Takes the line away from the values; one value becomes 0. NaN anywhere makes all NaN.</summary>
    public static void Remove(Span<double> values)
    {
        if (values.Length == 0) return;
        double middle = (values.Length - 1) / 2.0, mean = 0, together = 0, spread = 0;
        foreach (double value in values) mean += value / values.Length;
        for (int i = 0; i < values.Length; i++)
        {
            double from = i - middle;
            together += from * (values[i] - mean);
            spread += from * from;
        }

        double slope = spread > 0 ? together / spread : 0;
        for (int i = 0; i < values.Length; i++) values[i] -= mean + slope * (i - middle);
    }
}
