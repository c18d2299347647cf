using Stillwatch.Dsp;

namespace Stillwatch.Oximetry.Breathing;

/// <summary>
/// One of the three variations as points in time, freed of outliers, and drawn as a series of four samples a second. Its memory is used again.
/// </summary>
internal sealed class ModulationSeries(int capacity)
{
    public const double RateHz = 4;

    // Three seconds without a point is more than a breath at 20 a minute: nothing is known of breathing in between.
    private const double LongestStepSeconds = 3;
    private const double LeastCovered = 0.75;
    private const int LeastPoints = 8;

    // Four times the standard deviation that the median distance stands for (1.4826, for normal noise): from memory, common practice.
    private const double OutlierFactor = 4 * 1.4826;
    private const int MedianReach = 4;

    private readonly CurvePoint[] points = new CurvePoint[capacity];
    private readonly double[] values = new double[capacity];
    private readonly double[] medians = new double[capacity];
    private readonly double[] distances = new double[capacity];
    private int count;

    public void Clear() => count = 0;

    /// <summary>Times rise; NaN is passed over.</summary>
    public void Add(double seconds, double value)
    {
        if (double.IsFinite(value)) points[count++] = new CurvePoint(seconds, value);
    }

    /// <summary>Draws the series from <paramref name="startSeconds"/> on, with its straight line taken away; false: too few points.</summary>
    public bool Draw(double startSeconds, Span<double> series)
    {
        DropOutliers();
        if (count < LeastPoints) return false;
        int right = 0, covered = 0; // points[right - 1] and points[right] lie around the sample
        for (int i = 0; i < series.Length; i++)
        {
            double at = startSeconds + i / RateHz;
            while (right < count && points[right].Seconds <= at) right++;
            double step = right == 0 || right == count ? Math.Min(Math.Abs(at - points[0].Seconds), Math.Abs(at - points[count - 1].Seconds)) : points[right].Seconds - points[right - 1].Seconds;
            bool known = step <= LongestStepSeconds;
            if (known) covered++;
            series[i] = At(right, at, known);
        }

        StraightLine.Remove(series);
        return covered >= LeastCovered * series.Length;
    }

    // Beyond the ends the last value stands; a long step is a straight line, which adds nothing that could look like breathing.
    private double At(int right, double at, bool known)
    {
        if (right == 0) return points[0].Value;
        if (right == count) return points[count - 1].Value;
        if (!known) return HermiteCurve.Line(points[right - 1], points[right], at);
        if (right == 1) return HermiteCurve.AtStart(points[0], points[1], points[2], at);
        return right == count - 1
            ? HermiteCurve.AtEnd(points[right - 2], points[right - 1], points[right], at)
            : HermiteCurve.Between(points[right - 2], points[right - 1], points[right], points[right + 1], at);
    }

    private void DropOutliers()
    {
        for (int i = 0; i < count; i++) values[i] = points[i].Value;
        Medians.Around(values.AsSpan(0, count), MedianReach, medians);
        for (int i = 0; i < count; i++) distances[i] = Math.Abs(values[i] - medians[i]);
        distances.AsSpan(0, count).CopyTo(values);
        double most = OutlierFactor * Medians.InPlace(values.AsSpan(0, count));
        int kept = 0;
        for (int i = 0; i < count; i++)
        {
            if (distances[i] <= most) points[kept++] = points[i];
        }

        count = kept;
    }
}
