using Stillwatch.Dsp;

namespace Stillwatch.Oximetry.Feed;

/// <summary>
/// What interpolation over uneven rows costs: each row is found again from every other row around it (three and one before, one and three
/// after), over the pulse's own size.
/// </summary>
/// <remarks>
/// The pulse's size is the root mean square of the rows about straight lines over two seconds each: the baseline is not the pulse. The steps bridged here are twice
/// the source's, so the error is an upper estimate for light without noise; noise counts in full, as it should.
/// </remarks>
internal sealed class LeftOutError(double longestStepSeconds)
{
    private const int Rows = 7;
    private const double LineSeconds = 2;

    private readonly CurvePoint[] recent = new CurvePoint[Rows];
    private int count;
    private double squares;
    private long compared;

    // Sums for the straight line of the present two seconds, times counted from its first row and values from its first value.
    private CurvePoint lineStart;
    private long inLine;
    private double t, tt, v, tv, vv;
    private double lineSquares;
    private long linePoints;

    public double GreatestStepSeconds { get; private set; }

    /// <summary>NaN: fewer than seven rows without a gap, or no pulse.</summary>
    public double RelativeError
    {
        get
        {
            var (points, sum) = (linePoints, lineSquares);
            if (inLine > 4) (points, sum) = (points + inLine, sum + LineResidual());
            return compared > 0 && sum > 0 ? Math.Sqrt(squares / compared / (sum / points)) : double.NaN;
        }
    }

    public void Take(double seconds, double value)
    {
        if (!double.IsFinite(value)) return;
        var point = new CurvePoint(seconds, value);
        if (count > 0)
        {
            double step = seconds - recent[Rows - 1].Seconds;
            if (step > longestStepSeconds) count = 0;
            else GreatestStepSeconds = Math.Max(GreatestStepSeconds, step);
        }

        recent.AsSpan(1).CopyTo(recent);
        recent[Rows - 1] = point;
        count = Math.Min(count + 1, Rows);
        if (count == Rows)
        {
            double difference = HermiteCurve.Between(recent[0], recent[2], recent[4], recent[6], recent[3].Seconds) - recent[3].Value;
            squares += difference * difference;
            compared++;
        }

        AddToLine(point);
    }

    private void AddToLine(CurvePoint point)
    {
        if (inLine > 0 && point.Seconds - lineStart.Seconds >= LineSeconds)
        {
            if (inLine > 4) (linePoints, lineSquares) = (linePoints + inLine, lineSquares + LineResidual());
            (inLine, t, tt, v, tv, vv) = (0, 0, 0, 0, 0, 0);
        }

        if (inLine == 0) lineStart = point;
        double x = point.Seconds - lineStart.Seconds, y = point.Value - lineStart.Value;
        (inLine, t, tt, v, tv, vv) = (inLine + 1, t + x, tt + x * x, v + y, tv + x * y, vv + y * y);
    }

    private double LineResidual()
    {
        double spread = tt - t * t / inLine, together = tv - t * v / inLine;
        return Math.Max(0, vv - v * v / inLine - (spread > 0 ? together * together / spread : 0));
    }
}
