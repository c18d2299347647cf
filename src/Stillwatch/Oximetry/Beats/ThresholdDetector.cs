namespace Stillwatch.Oximetry.Beats;

/// <summary>
/// The plain detector, to compare others with: the series turns when it has come back from its last extreme by a part of the usual swing. No publication;
/// a hysteresis with a threshold that follows the swing.
/// </summary>
/// <param name="rateHz">Of the samples.</param>
public sealed class ThresholdDetector(double rateHz) : IBeatDetector
{
    private const double Part = 0.5;
    private const double ForgetSeconds = 3;

    private readonly double forget = 1 / (ForgetSeconds * rateHz);
    private readonly int warmSamples = (int)Math.Ceiling(ForgetSeconds * rateHz);
    private double[] warm = [];
    private long index;
    private double power;
    private bool isRising;
    private double extreme;
    private long extremeIndex, troughIndex;

    public string Name => "threshold on the swing (plain, no publication)";

    public int LatencySamples => warmSamples;

    public void Push(ReadOnlySpan<double> pulse, PulseList found)
    {
        ArgumentNullException.ThrowIfNull(found);
        if (index < warmSamples)
        {
            int length = (int)Math.Min(pulse.Length, warmSamples - index);
            if (warm.Length == 0) warm = new double[warmSamples];
            pulse[..length].CopyTo(warm.AsSpan((int)index));
            index += length;
            pulse = pulse[length..];
            if (index < warmSamples) return;
            Start(warm, found);
        }

        foreach (double value in pulse) Step(value, index++, found);
    }

    public void End(PulseList found)
    {
        if (index < warmSamples && index > 0) Start(warm.AsSpan(0, (int)index), found);
    }

    public void Reset()
    {
        index = 0;
        power = 0;
    }

    private void Start(ReadOnlySpan<double> first, PulseList found)
    {
        foreach (double value in first) power += value * value;
        power /= first.Length;
        isRising = true;
        extreme = first[0];
        extremeIndex = 0;
        troughIndex = -1;
        for (int i = 0; i < first.Length; i++) Step(first[i], i, found);
    }

    private void Step(double value, long at, PulseList found)
    {
        power += (value * value - power) * forget;
        double swing = Part * 2 * Math.Sqrt(2 * power); // trough to peak of a sine of that power
        if (isRising)
        {
            if (value > extreme)
            {
                extreme = value;
                extremeIndex = at;
            }
            else if (value < extreme - swing)
            {
                if (troughIndex >= 0) found.Add(new PulseMark(troughIndex, extremeIndex));
                isRising = false;
                extreme = value;
                extremeIndex = at;
            }
        }
        else if (value < extreme)
        {
            extreme = value;
            extremeIndex = at;
        }
        else if (value > extreme + swing)
        {
            troughIndex = extremeIndex;
            isRising = true;
            extreme = value;
            extremeIndex = at;
        }
    }
}
