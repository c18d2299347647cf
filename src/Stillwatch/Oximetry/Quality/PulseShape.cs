using System.Numerics.Tensors;

namespace Stillwatch.Oximetry.Quality;

/// <summary>The shape of one pulse, on a fixed number of points, without its size, level and length.</summary>
public static class PulseShape
{
    /// <summary>Points from trough to next trough. Own choice: 32 at 60 /min is 32 Hz, above four times the 8 Hz of the band.</summary>
    public const int Points = 32;

    /// <summary>
    /// Brings a beat onto <paramref name="points"/> by straight lines between its samples, mean taken away, length one (root of the sum of squares),
    /// so that the product of two shapes is their correlation.
    /// </summary>
    /// <returns>False where the beat does not move or holds NaN: the points are then all 0.</returns>
    public static bool Resample(ReadOnlySpan<double> beat, Span<double> points)
    {
        double step = (beat.Length - 1.0) / (points.Length - 1);
        double mean = 0;
        for (int i = 0; i < points.Length; i++)
        {
            double at = i * step;
            int left = Math.Min((int)at, beat.Length - 2);
            double value = beat[left] + (beat[left + 1] - beat[left]) * (at - left);
            points[i] = value;
            mean += value;
        }

        mean /= points.Length;
        double squares = 0;
        for (int i = 0; i < points.Length; i++)
        {
            points[i] -= mean;
            squares += points[i] * points[i];
        }

        if (!(squares > 0 && double.IsFinite(squares)))
        {
            points.Clear();
            return false;
        }

        TensorPrimitives.Multiply(points, 1 / Math.Sqrt(squares), points);
        return true;
    }
}
