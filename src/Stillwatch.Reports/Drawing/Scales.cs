namespace Stillwatch.Reports.Drawing;

/// <summary>From a value to a pixel.</summary>
internal abstract class Scale
{
    private readonly double bentFrom;
    private readonly double bentTo;

    /// <param name="from">Value at <paramref name="start"/>.</param>
    /// <param name="to">Value at <paramref name="end"/>; equal to <paramref name="from"/>: everything lies in the middle.</param>
    /// <param name="start">Pixel.</param>
    /// <param name="end">Pixel; may be less than start (upward axes).</param>
    /// <param name="bend">A rising function that the scale is even in.</param>
    protected Scale(double from, double to, double start, double end, Func<double, double> bend)
    {
        (From, To, Start, End) = (from, to, start, end);
        Bend = bend;
        (bentFrom, bentTo) = (bend(from), bend(to));
    }

    public double From { get; }

    public double To { get; }

    public double Start { get; }

    public double End { get; }

    private Func<double, double> Bend { get; }

    public double At(double value) => bentTo == bentFrom
        ? (Start + End) / 2
        : Start + (Bend(value) - bentFrom) / (bentTo - bentFrom) * (End - Start);

    /// <summary>The pixel, kept inside the axis.</summary>
    public double Within(double value) => Math.Clamp(At(value), Math.Min(Start, End), Math.Max(Start, End));
}

/// <summary>Even in the value.</summary>
internal sealed class LinearScale(double from, double to, double start, double end) : Scale(from, to, start, end, v => v);

/// <summary>Even in the square root of (value + <paramref name="lift"/>): gives short delays the room that long ones do not need.</summary>
internal sealed class RootScale(double from, double to, double start, double end, double lift = 0)
    : Scale(from, to, start, end, v => Math.Sqrt(Math.Max(0, v + lift)));

/// <summary>Even in the logarithm. Values above 0.</summary>
internal sealed class LogScale(double from, double to, double start, double end) : Scale(from, to, start, end, v => Math.Log(Math.Max(v, 1e-9)));
