using Stillwatch.Dsp;
using Stillwatch.Oximetry.Feed;

namespace Stillwatch.Oximetry.Planning;

/// <summary>
/// Which way up a pulse is: blood rushes in and drains slowly, so that the rise is steeper than the fall. Over blocks of ten seconds the skewness of the
/// band-passed steps is above zero where values rise with blood; the blocks vote. Common practice, no source.
/// </summary>
/// <param name="rateHz">Of the samples.</param>
internal sealed class SlopeAsymmetry(double rateHz) : IFrameSink
{
    private const double BlockSeconds = 10;

    private readonly PulseBand band = new(rateHz);
    private readonly int blockSamples = (int)(BlockSeconds * rateHz);
    private double[] passed = [];
    private double first, last, squares, cubes, skewnesses;
    private int unwanted, inBlock;
    private bool isOpen;

    /// <summary>Blocks that rise steeply, less those that fall steeply.</summary>
    public int Votes { get; private set; }

    /// <summary>Blocks in which anything moved.</summary>
    public int Blocks { get; private set; }

    /// <summary>Mean over the blocks of the skewness of the steps (third moment about zero over the second to the power of 1.5), above zero where rises are the steeper; NaN without blocks.</summary>
    public double MeanSkewness => skewnesses / Blocks;

    public void Take(ReadOnlySpan<double> pulse, ReadOnlySpan<double> red)
    {
        if (passed.Length < pulse.Length) passed = new double[pulse.Length];
        int at = 0;
        while (at < pulse.Length)
        {
            int length = 0;
            while (at + length < pulse.Length && Math.Abs(pulse[at + length]) <= Streaming.Intake.GreatestMagnitude) length++;
            if (length == 0)
            {
                isOpen = false;
                at++;
                continue;
            }

            Run(pulse.Slice(at, length));
            at += length;
        }
    }

    public void TakeGap(long samples) => isOpen = false;

    private void Run(ReadOnlySpan<double> pulse)
    {
        if (!isOpen)
        {
            isOpen = true;
            band.Reset();
            first = pulse[0];
            unwanted = 2 * band.DelaySamples + 1;
            StartBlock();
        }

        var steps = passed.AsSpan(0, pulse.Length);
        System.Numerics.Tensors.TensorPrimitives.Subtract(pulse, first, steps);
        band.Push(steps, steps);
        foreach (double value in steps)
        {
            double step = value - last;
            last = value;
            if (unwanted > 0)
            {
                unwanted--;
                continue;
            }

            squares += step * step;
            cubes += step * step * step;
            if (++inBlock < blockSamples) continue;
            if (squares > 0) Close();
            StartBlock();
        }
    }

    private void Close()
    {
        Votes += Math.Sign(cubes);
        Blocks++;
        skewnesses += cubes / inBlock / Math.Pow(squares / inBlock, 1.5);
    }

    private void StartBlock()
    {
        inBlock = 0;
        squares = cubes = 0;
    }
}
