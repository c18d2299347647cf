using System.Numerics.Tensors;

namespace Stillwatch.Oximetry.Streaming;

/// <summary>
/// Decides which samples are numbers and where segments begin and end. A hole of up to <see cref="BridgedSeconds"/> is bridged by a straight line; a
/// longer one ends the segment. Red light that is missing ends nothing: its last value stands, and is marked.
/// </summary>
/// <param name="input">What comes.</param>
/// <param name="segment">What it is made into.</param>
internal sealed class Intake(StreamInput input, Segment segment)
{
    /// <summary>The longest hole that is bridged: a tenth of a pulse at 60 a minute. Common practice, no source.</summary>
    public const double BridgedSeconds = 0.1;

    /// <summary>Values beyond this are no measurement, and would not survive being squared.</summary>
    public const double GreatestMagnitude = 1e60;

    private readonly double[] bridge = new double[2 * ((int)(BridgedSeconds * input.Rate.Hertz) + 1)];
    private readonly double least = input.IsLight ? double.Epsilon : -GreatestMagnitude;
    private bool isOpen;
    private int missing;
    private double lastPulse, lastRed;

    /// <summary>The longest hole that is bridged.</summary>
    public int BridgedSamples { get; } = (int)Math.Floor(BridgedSeconds * input.Rate.Hertz + 1e-9);

    /// <summary>Samples that were bridged so far.</summary>
    public long Bridged { get; private set; }

    /// <summary>Takes the samples from an index on; red is empty where there is none. Red that is no light is made NaN in place.</summary>
    public void Take(long firstIndex, ReadOnlySpan<double> pulse, Span<double> red)
    {
        int at = 0;
        while (at < pulse.Length)
        {
            int length = GoodRun(pulse[at..]);
            if (length == 0)
            {
                Miss(1);
                at++;
                continue;
            }

            var goodRed = red.IsEmpty ? default : red.Slice(at, length);
            foreach (ref double value in goodRed)
            {
                if (!IsGood(value)) value = double.NaN;
            }

            Arrive(firstIndex + at, pulse[at], goodRed);
            segment.Append(pulse.Slice(at, length), goodRed);
            lastPulse = pulse[at + length - 1];
            if (!goodRed.IsEmpty) lastRed = goodRed[^1];
            at += length;
        }
    }

    /// <summary>So many samples are missing.</summary>
    public void Miss(long samples)
    {
        if (!isOpen) return;
        missing = (int)Math.Min(missing + samples, int.MaxValue / 2);
        if (missing > BridgedSamples) End();
    }

    /// <summary>Nothing more comes.</summary>
    public void End()
    {
        if (isOpen) segment.End();
        isOpen = false;
        missing = 0;
    }

    /// <summary>Whether a value of the pulse's channel can be used; of light it must be above zero.</summary>
    public bool IsGood(double value) => value >= least && value <= GreatestMagnitude;

    private void Arrive(long index, double pulse, ReadOnlySpan<double> red)
    {
        if (!isOpen)
        {
            segment.Begin(index);
            isOpen = true;
        }
        else if (missing > 0)
        {
            var line = bridge.AsSpan(0, missing);
            var redLine = red.IsEmpty ? default : bridge.AsSpan(missing, missing);
            for (int i = 0; i < missing; i++)
            {
                double share = (i + 1.0) / (missing + 1);
                line[i] = lastPulse + (pulse - lastPulse) * share;
                if (!red.IsEmpty) redLine[i] = lastRed + (red[0] - lastRed) * share; // NaN where either is missing
            }

            segment.Append(line, redLine);
            Bridged += missing;
        }

        missing = 0;
    }

    private int GoodRun(ReadOnlySpan<double> values)
    {
        // Whole seconds are good as a rule; both fold NaN into their answer.
        if (TensorPrimitives.Min(values) >= least && TensorPrimitives.Max(values) <= GreatestMagnitude) return values.Length;
        int length = 0;
        while (length < values.Length && IsGood(values[length])) length++;
        return length;
    }
}
