using System.Numerics;
using MathNet.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace Stillwatch.Dsp;

/// <summary>Power per frequency of a stretch of even samples, after a Hamming window, filled up with zeros to a power of two.</summary>
/// <remarks>
/// One-sided: bin k holds the power of both k and −k, so that the bins' sum is the mean square of the windowed samples over the mean square of
/// the window (Parseval; for a steady oscillation between two bins, half of its amplitude squared, spread over its neighbours). The
/// transform is MathNet's; so is the window, 0.53836 − 0.46164 cos (Hamming's with the coefficients
/// of least equal ripple; Harris, Proc IEEE 1978;66:51, from memory). Nothing is taken away before:
/// remove mean or line first. NaN anywhere gives NaN everywhere. Allocates nothing after its start up to 512 points; above that, the
/// transform itself does.
/// </remarks>
public sealed class PowerSpectrum
{
    private readonly double[] window;
    private readonly Complex[] points;
    private readonly double scale;

    /// <param name="samples">Length of the stretch.</param>
    /// <param name="points">Of the transform: a power of two, at least <paramref name="samples"/>. More points lie closer; they tell no more.</param>
    public PowerSpectrum(int samples, int points)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(samples, 2);
        ArgumentOutOfRangeException.ThrowIfLessThan(points, samples);
        if (!BitOperations.IsPow2(points)) throw new ArgumentOutOfRangeException(nameof(points), points, "Expected a power of two.");
        window = Window.Hamming(samples);
        this.points = new Complex[points];
        scale = 1 / (points * window.Sum(w => w * w));
    }

    /// <summary>Length of the stretch.</summary>
    public int Samples => window.Length;

    /// <summary>From 0 to half of the sampling rate, both included.</summary>
    public int Bins => points.Length / 2 + 1;

    /// <summary>The frequency of a bin.</summary>
    public double HertzOf(double bin, double rateHz) => bin * rateHz / points.Length;

    /// <summary>Where a frequency lies among the bins.</summary>
    public double BinOf(double hertz, double rateHz) => hertz * points.Length / rateHz;

    /// <param name="values"><see cref="Samples"/> long.</param>
    /// <param name="power"><see cref="Bins"/> long; the values' unit squared.</param>
    public void Of(ReadOnlySpan<double> values, Span<double> power)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(values.Length, Samples, nameof(values));
        ArgumentOutOfRangeException.ThrowIfNotEqual(power.Length, Bins, nameof(power));
        for (int i = 0; i < values.Length; i++) points[i] = values[i] * window[i];
        points.AsSpan(values.Length).Clear();
        Fourier.Forward(points, FourierOptions.NoScaling);
        for (int k = 0; k < power.Length; k++)
        {
            var point = points[k];
            double sides = k == 0 || k == points.Length / 2 ? 1 : 2;
            power[k] = sides * scale * (point.Real * point.Real + point.Imaginary * point.Imaginary);
        }
    }
}
