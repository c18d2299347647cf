using System.Numerics.Tensors;
using Stillwatch.Oximetry.Quality;
using Stillwatch.Oximetry.Ratio;

namespace Stillwatch.Oximetry.States;

/// <summary>What one second's samples say by themselves.</summary>
/// <param name="Level">Mean raw infrared light or pleth.</param>
/// <param name="RedLevel">Mean raw red light; NaN: none.</param>
/// <param name="Noise">Variance of the infrared's noise over its squared mean.</param>
/// <param name="RedNoise">The same of red.</param>
/// <param name="FlatShare">See <see cref="Clipping.FlatShare"/>; of both channels the less.</param>
/// <param name="ClippedShare">See <see cref="Clipping.ClippedShare"/>; of both channels the greater.</param>
/// <param name="Step">Most abrupt change of the raw light within <see cref="StepSeconds"/>, in the raw unit, signed.</param>
/// <param name="RedStep">Red's change at the same instant.</param>
/// <param name="UsualStep">Mean size of such changes in the second.</param>
internal readonly record struct SecondFeatures(
    double Level, double RedLevel, double Noise, double RedNoise, double FlatShare, double ClippedShare, double Step, double RedStep, double UsualStep)
{
    /// <summary>A lamp that is switched is there within this time; a pulse rises in several times it.</summary>
    public const double StepSeconds = 0.025;

    /// <summary>A second without samples.</summary>
    public static SecondFeatures None => new(double.NaN, double.NaN, double.NaN, double.NaN, 0, 0, 0, double.NaN, 0);

    public static SecondFeatures Of(ReadOnlySpan<double> pulse, ReadOnlySpan<double> red, double rateHz)
    {
        var clipped = Clipping.Of(pulse);
        double flat = clipped.FlatShare, clip = clipped.ClippedShare;
        double redLevel = double.NaN, redNoise = double.NaN;
        if (!red.IsEmpty)
        {
            var redClipped = Clipping.Of(red);
            flat = Math.Min(flat, redClipped.FlatShare);
            clip = Math.Max(clip, redClipped.ClippedShare);
            // One channel at its end and the other not: a flat channel is a clipped one.
            if (flat <= FlatForGood && Math.Max(clipped.FlatShare, redClipped.FlatShare) > FlatForGood) clip = 1;
            redLevel = TensorPrimitives.Sum(red) / red.Length;
            redNoise = LightNoise.RelativeVariance(red, rateHz);
        }

        int lag = Math.Max(1, (int)Math.Round(StepSeconds * rateHz));
        int at = -1;
        double greatest = 0, sum = 0;
        for (int i = lag; i < pulse.Length; i++)
        {
            double step = Math.Abs(pulse[i] - pulse[i - lag]);
            sum += step;
            if (step > greatest) (greatest, at) = (step, i);
        }

        return new SecondFeatures(
            TensorPrimitives.Sum(pulse) / pulse.Length, redLevel, LightNoise.RelativeVariance(pulse, rateHz), redNoise, flat, clip,
            at < 0 ? 0 : pulse[at] - pulse[at - lag], at < 0 || red.IsEmpty ? double.NaN : red[at] - red[at - lag],
            pulse.Length > lag ? sum / (pulse.Length - lag) : 0);
    }

    private const double FlatForGood = 0.95;
}
