namespace Stillwatch.Oximetry.Beats;

/// <summary>
/// The plain detector: the pulse has turned when it has come back from its last extreme by 40 % of the usual swing, trough to peak. A hysteresis with a
/// threshold that follows the swings, of no publication; every number in it is our own, from rehearsed light.
/// </summary>
/// <remarks>
/// The usual swing begins as that of a sine with the power of the first two seconds. Each pulse moves it by 15 % of the way, upwards by 15 % at most,
/// so that one jerk does not make the detector deaf; after 2 s without a pulse it sinks, by half each second, until a weaker pulse is found.
/// </remarks>
/// <param name="rateHz">Of the samples.</param>
public sealed class ThresholdDetector(double rateHz) : IBeatDetector
{
    public const double LearnSeconds = 2;
    public const double ThresholdPart = 0.4;
    public const double PatienceSeconds = 2;

    private const double SwingShare = 0.15;
    private const double MostOfSwing = 2; // a swing counts as no larger
    private const double CrestOfPower = 1.2; // a pulse is more pointed than the sine of its power
    private const double LeastPart = 1e-9; // of the first swing

    private readonly double[] first = new double[(int)Math.Ceiling(LearnSeconds * rateHz)];
    private readonly int patience = (int)Math.Round(PatienceSeconds * rateHz);
    private readonly double sink = Math.Pow(0.5, 1 / rateHz);
    private long count, extremeIndex, troughIndex, lastFound;
    private double swing, faded, least; // of a pulse; what is left of it while none comes
    private double extreme, trough;
    private bool isRising;

    public string Name => "threshold on the swing (plain, no publication)";

    /// <summary>It waits for the fall, which takes less than a second.</summary>
    public int LatencySamples => (int)Math.Ceiling(rateHz);

    public void Push(ReadOnlySpan<double> pulse, PulseList found)
    {
        ArgumentNullException.ThrowIfNull(found);
        if (count < first.Length)
        {
            int length = (int)Math.Min(pulse.Length, first.Length - count);
            pulse[..length].CopyTo(first.AsSpan((int)count));
            count += length;
            pulse = pulse[length..];
            if (count == first.Length) Start(first, found);
        }

        foreach (double value in pulse) Step(value, count++, found);
    }

    public void End(PulseList found)
    {
        ArgumentNullException.ThrowIfNull(found);
        if (count > 0 && count < first.Length) Start(first.AsSpan(0, (int)count), found);
    }

    public void Reset() => count = 0;

    private void Start(ReadOnlySpan<double> known, PulseList found)
    {
        double power = 0;
        foreach (double value in known) power += value * value;
        swing = faded = CrestOfPower * 2 * Math.Sqrt(2 * power / known.Length);
        least = LeastPart * swing;
        isRising = true;
        extreme = known[0];
        extremeIndex = lastFound = 0;
        troughIndex = -1;
        for (int i = 0; i < known.Length; i++) Step(known[i], i, found);
    }

    private void Step(double value, long index, PulseList found)
    {
        if (index - lastFound > patience) faded = Math.Max(least, faded * sink);
        double ahead = isRising ? value - extreme : extreme - value;
        if (ahead > 0)
        {
            extreme = value;
            extremeIndex = index;
        }
        else if (-ahead > ThresholdPart * faded)
        {
            if (isRising) Turn(index, found);
            else (troughIndex, trough) = (extremeIndex, extreme);
            isRising = !isRising;
            extreme = value;
            extremeIndex = index;
        }
    }

    /// <summary>The extreme was a peak.</summary>
    private void Turn(long index, PulseList found)
    {
        if (troughIndex < 0) return;
        found.Add(new PulseMark(troughIndex, extremeIndex));
        double height = extreme - trough;
        if (height < ThresholdPart * swing) swing = faded; // pulses have become weaker; a slow heart alone does not lower the level
        swing += SwingShare * (Math.Min(height, MostOfSwing * swing) - swing);
        faded = swing;
        lastFound = index;
    }
}
