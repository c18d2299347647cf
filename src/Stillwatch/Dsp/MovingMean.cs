using System.Numerics.Tensors;

namespace Stillwatch.Dsp;

/// <summary>
/// A centred moving mean of any length in samples, whole or not: the two outermost samples count with the part of them that is left. Linear
/// phase, a whole number of samples late, a few operations a sample whatever the length, nothing allocated after construction.
/// </summary>
/// <remarks>
/// Gain at f: |sin(πf·n/F)/sin(πf/F) + 2w·cos(πf(n + 1)/F)| / L, with n the greatest odd number not above L and w = (L − n)/2; close to
/// |sinc(fL/F)|. The running sum is taken anew every <see cref="Anchor"/> samples, at places that depend on nothing but the count: rounding does
/// not add up, and a monstrous sample is forgotten. NaN and infinities are not looked for.
/// </remarks>
public sealed class MovingMean
{
    /// <summary>Samples after which the sum is taken anew.</summary>
    public const int Anchor = 512;

    private readonly int core;
    private readonly double edge;
    private readonly double scale;
    private readonly double[] line; // core + 1 samples of the past, then the block
    private int filled;
    private double sum;

    /// <param name="lengthSamples">At least 1.</param>
    public MovingMean(double lengthSamples)
    {
        if (!(lengthSamples >= 1) || lengthSamples > 1e6) throw new ArgumentOutOfRangeException(nameof(lengthSamples), lengthSamples, "Found a length that is not between 1 and 1 000 000 samples.");
        int whole = (int)Math.Floor(lengthSamples);
        core = whole % 2 == 1 ? whole : whole - 1;
        edge = (lengthSamples - core) / 2;
        scale = 1 / lengthSamples;
        line = new double[core + 1 + Anchor];
    }

    /// <summary>The output that is written with a sample is the mean around the sample this many before it.</summary>
    public int DelaySamples => (core + 1) / 2;

    /// <summary>Before the first sample there are zeros.</summary>
    public void Reset()
    {
        Array.Clear(line);
        filled = 0;
        sum = 0;
    }

    /// <summary>Takes samples and writes one for each; input and output may be the same memory.</summary>
    public void Push(ReadOnlySpan<double> input, Span<double> output)
    {
        while (input.Length > 0)
        {
            int length = Math.Min(input.Length, Anchor - filled);
            input[..length].CopyTo(line.AsSpan(core + 1 + filled));
            Run(line.AsSpan(filled, core + 1 + length), output[..length]);
            filled += length;
            if (filled == Anchor)
            {
                line.AsSpan(Anchor, core + 1).CopyTo(line);
                filled = 0;
                sum = TensorPrimitives.Sum<double>(line.AsSpan(1, core));
            }

            input = input[length..];
            output = output[length..];
        }
    }

    private void Run(ReadOnlySpan<double> samples, Span<double> output)
    {
        var oldest = samples[..output.Length];
        var leaving = samples.Slice(1, output.Length);
        var entering = samples.Slice(core + 1, output.Length);
        double running = sum, share = edge, factor = scale;
        for (int i = 0; i < output.Length; i++)
        {
            double next = entering[i];
            output[i] = (running + share * (next + oldest[i])) * factor;
            running += next - leaving[i];
        }

        sum = running;
    }
}
