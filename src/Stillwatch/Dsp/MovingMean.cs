using System.Numerics.Tensors;
using System.Runtime.Intrinsics;

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
    /// <summary>Samples after which the sum is taken anew; whole groups of four.</summary>
    public const int Anchor = 512;

    private const long None = 4; // no lane: zero

    private readonly int core;
    private readonly double edge;
    private readonly double scale;
    private readonly double[] line; // core + 1 samples of the past, then the block
    private int filled;
    private double sum; // of the core, at the beginning of the group of four that is worked on
    private double first, second, third; // what the group's samples have changed in it so far

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

    // Four samples at a time: a sum carried from sample to sample would wait for each addition. The groups are counted from the anchor and a sample alone
    // is added in the same order, so that the cutting changes no bit.
    private void Run(ReadOnlySpan<double> samples, Span<double> output)
    {
        var oldest = samples[..output.Length];
        var leaving = samples.Slice(1, output.Length);
        var entering = samples.Slice(core + 1, output.Length);
        int i = 0;
        while (i < output.Length && (filled + i) % 4 != 0)
        {
            output[i] = Step(oldest[i], leaving[i], entering[i], (filled + i) % 4);
            i++;
        }

        var running = Vector256.Create(sum);
        var share = Vector256.Create(edge);
        var factor = Vector256.Create(scale);
        for (; i + 4 <= output.Length; i += 4)
        {
            var next = Vector256.Create(entering.Slice(i, 4));
            var change = next - Vector256.Create(leaving.Slice(i, 4));
            var pairs = change + Vector256.Shuffle(change, Vector256.Create(None, 0, 1, 2));
            var upTo = pairs + Vector256.Shuffle(pairs, Vector256.Create(None, None, 0, 1));
            var before = Vector256.Shuffle(upTo, Vector256.Create(None, 0, 1, 2));
            ((running + before + share * (next + Vector256.Create(oldest.Slice(i, 4)))) * factor).CopyTo(output.Slice(i, 4));
            running += Vector256.Shuffle(upTo, Vector256.Create(3L));
        }

        sum = running[0];
        for (; i < output.Length; i++) output[i] = Step(oldest[i], leaving[i], entering[i], (filled + i) % 4);
    }

    private double Step(double oldest, double leaving, double entering, int place)
    {
        double before = place switch { 0 => 0, 1 => first, 2 => second + first, _ => third + second + first };
        double mean = (sum + before + edge * (entering + oldest)) * scale;
        double change = entering - leaving;
        switch (place)
        {
            case 0: first = change; break;
            case 1: second = change; break;
            case 2: third = change; break;
            default: sum += change + third + (second + first); break;
        }

        return mean;
    }
}
