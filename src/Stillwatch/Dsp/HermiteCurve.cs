namespace Stillwatch.Dsp;

/// <summary>
/// A smooth curve through uneven points: a cubic between each two, which has at each point the slope of the parabola through it and its two
/// neighbours.
/// </summary>
/// <remarks>
/// Cubic Hermite form (Fritsch and Carlson, SIAM J Numer Anal 1980;17:238, from memory); parabola slopes are Bessel's (de Boor, <i>A Practical
/// Guide to Splines</i>, from memory). Four points decide a stretch, so it can be drawn as samples come. Constants, straight lines and parabolas
/// come back exactly but for rounding. Times rise strictly; NaN in gives NaN out.
/// </remarks>
public static class HermiteCurve
{
    /// <summary>The value at a time between the middle two of four points.</summary>
    public static double Between(CurvePoint before, CurvePoint left, CurvePoint right, CurvePoint after, double seconds) =>
        Cubic(left, SlopeAt(before, left, right), right, SlopeAt(left, right, after), seconds);

    /// <summary>Between the first two of three points: nothing is known before.</summary>
    public static double AtStart(CurvePoint left, CurvePoint right, CurvePoint after, double seconds)
    {
        double slope = SlopeAt(left, right, after);
        return Cubic(left, 2 * Steepness(left, right) - slope, right, slope, seconds); // a parabola's slopes: their mean is the chord's
    }

    /// <summary>Between the last two of three points: nothing is known after.</summary>
    public static double AtEnd(CurvePoint before, CurvePoint left, CurvePoint right, double seconds)
    {
        double slope = SlopeAt(before, left, right);
        return Cubic(left, slope, right, 2 * Steepness(left, right) - slope, seconds);
    }

    /// <summary>Between two points that stand alone: a straight line.</summary>
    public static double Line(CurvePoint left, CurvePoint right, double seconds) => left.Value + Steepness(left, right) * (seconds - left.Seconds);

    private static double Steepness(CurvePoint left, CurvePoint right) => (right.Value - left.Value) / (right.Seconds - left.Seconds);

    private static double SlopeAt(CurvePoint before, CurvePoint at, CurvePoint after)
    {
        double back = at.Seconds - before.Seconds, forth = after.Seconds - at.Seconds;
        return (Steepness(before, at) * forth + Steepness(at, after) * back) / (back + forth);
    }

    private static double Cubic(CurvePoint left, double leftSlope, CurvePoint right, double rightSlope, double seconds)
    {
        double step = right.Seconds - left.Seconds, rise = right.Value - left.Value;
        double at = (seconds - left.Seconds) / step;
        double a = leftSlope * step - rise, b = rise - rightSlope * step; // how far the ends' slopes differ from the chord
        return left.Value + at * rise + at * (1 - at) * (a * (1 - at) + b * at);
    }
}

/// <summary>A value at a time.</summary>
public readonly record struct CurvePoint(double Seconds, double Value);
