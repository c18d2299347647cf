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
/// <param name="Step">Most abrupt change of the raw light within <see cref="SecondEdge.StepSeconds"/>, in the raw unit, signed.</param>
/// <param name="RedStep">Red's change at the same instant.</param>
/// <param name="UsualStep">Mean size of such changes in the second.</param>
internal readonly record struct SecondFeatures(
    double Level, double RedLevel, double Noise, double RedNoise, double FlatShare, double ClippedShare, double Step, double RedStep, double UsualStep)
{
    /// <summary>A second without samples.</summary>
    public static SecondFeatures None => new(double.NaN, double.NaN, double.NaN, double.NaN, 0, 0, 0, double.NaN, 0);

    public static SecondFeatures Of(ReadOnlySpan<double> pulse, ReadOnlySpan<double> red, double rateHz, SecondEdge edge)
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

        var (step, redStep, usual) = edge.StepsOf(pulse, red);
        return new SecondFeatures(
            TensorPrimitives.Sum(pulse) / pulse.Length, redLevel, LightNoise.RelativeVariance(pulse, rateHz), redNoise, flat, clip,
            step, redStep, usual);
    }

    private const double FlatForGood = 0.95;
}

/// <summary>Abrupt changes of the light, those from one second to the next too. Keeps the last samples of the second before.</summary>
internal sealed class SecondEdge(double rateHz)
{
    /// <summary>A lamp that is switched is there within this time; a pulse rises in several times it.</summary>
    public const double StepSeconds = 0.025;

    private readonly int lag = Math.Max(1, (int)Math.Round(StepSeconds * rateHz));
    private readonly double[] pulseBefore = new double[Math.Max(1, (int)Math.Round(StepSeconds * rateHz))];
    private readonly double[] redBefore = new double[Math.Max(1, (int)Math.Round(StepSeconds * rateHz))];
    private bool hasBefore, hasRedBefore;

    public void Clear() => hasBefore = hasRedBefore = false;

    /// <summary>The most abrupt change, signed, red's at the same instant, and the mean size of such changes.</summary>
    public (double Step, double RedStep, double Usual) StepsOf(ReadOnlySpan<double> pulse, ReadOnlySpan<double> red)
    {
        double greatest = 0, sum = 0, signed = 0, redSigned = double.NaN;
        int count = 0, at = -1;
        for (int i = hasBefore ? 0 : lag; i < pulse.Length; i++, count++)
        {
            double step = Math.Abs(pulse[i] - (i < lag ? pulseBefore[i] : pulse[i - lag]));
            sum += step;
            if (step > greatest) (greatest, at) = (step, i);
        }

        if (at >= 0)
        {
            signed = pulse[at] - (at < lag ? pulseBefore[at] : pulse[at - lag]);
            if (!red.IsEmpty && (at >= lag || hasRedBefore)) redSigned = red[at] - (at < lag ? redBefore[at] : red[at - lag]);
        }

        hasBefore = pulse.Length >= lag;
        hasRedBefore = red.Length >= lag;
        if (hasBefore) pulse[^lag..].CopyTo(pulseBefore);
        if (hasRedBefore) red[^lag..].CopyTo(redBefore);
        return (signed, redSigned, count > 0 ? sum / count : 0);
    }
}
