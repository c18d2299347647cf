namespace Stillwatch.Dsp;

/// <summary>
/// The pulse's band: a double moving mean of 0.1 s takes lamps and noise away, and what a double moving mean of 1 s leaves of that is the baseline,
/// which is subtracted. Linear phase: every frequency comes <see cref="DelaySamples"/> late and no shape is skewed.
/// </summary>
/// <remarks>
/// Gain at f, about: sinc²(0.1·f) · (1 − sinc²(f)), f in hertz: 0 at 0, half at 0.45, 1.01 of sinc²(0.1·f) at 1, 0.57 at 4, zeros at every multiple of
/// 10 Hz, so that lamps at 50 and 60 Hz (and the 100 and 120 Hz at which they flicker) vanish. Exact where 0.1 s and 1 s are whole samples; see
/// <see cref="MovingMean"/> for the rest. Lengths: common practice, no source (pulse 0.5–4 Hz, breathing below).
/// </remarks>
public sealed class PulseBand
{
    /// <summary>Length of each of the two means that smooth.</summary>
    public const double SmoothSeconds = 0.1;

    /// <summary>Length of each of the two means that make the baseline.</summary>
    public const double BaselineSeconds = 1.0;

    private const int Block = 256;

    private readonly MovingMean smooth1, smooth2, slow1, slow2;
    private readonly double[] smoothed; // as many as the baseline is late, then the block
    private readonly double[] baseline = new double[Block];
    private readonly int late;

    /// <param name="rateHz">At least 10.</param>
    public PulseBand(double rateHz)
    {
        if (!(rateHz >= 1 / SmoothSeconds)) throw new ArgumentOutOfRangeException(nameof(rateHz), rateHz, "Found a rate that is not at least 10 Hz.");
        smooth1 = new MovingMean(rateHz * SmoothSeconds);
        smooth2 = new MovingMean(rateHz * SmoothSeconds);
        slow1 = new MovingMean(rateHz * BaselineSeconds);
        slow2 = new MovingMean(rateHz * BaselineSeconds);
        late = 2 * slow1.DelaySamples;
        smoothed = new double[late + Block];
    }

    /// <summary>The output that is written with a sample belongs to the sample this many before it; it looks as far to both sides.</summary>
    public int DelaySamples => 2 * smooth1.DelaySamples + late;

    /// <summary>Before the first sample there are zeros.</summary>
    public void Reset()
    {
        smooth1.Reset();
        smooth2.Reset();
        slow1.Reset();
        slow2.Reset();
        Array.Clear(smoothed);
    }

    /// <summary>Takes samples and writes one for each; input and output may be the same memory.</summary>
    public void Push(ReadOnlySpan<double> input, Span<double> output)
    {
        while (input.Length > 0)
        {
            int length = Math.Min(input.Length, Block);
            var passed = smoothed.AsSpan(late, length);
            var slow = baseline.AsSpan(0, length);
            smooth1.Push(input[..length], passed);
            smooth2.Push(passed, passed);
            slow1.Push(passed, slow);
            slow2.Push(slow, slow);
            System.Numerics.Tensors.TensorPrimitives.Subtract(smoothed.AsSpan(0, length), slow, output[..length]);
            smoothed.AsSpan(length, late).CopyTo(smoothed);
            input = input[length..];
            output = output[length..];
        }
    }
}
