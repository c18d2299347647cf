namespace Stillwatch.Oximetry.Beats;

/// <summary>
/// The plain detector: the pulse has turned when it has come back from its last extreme by 40 % of the usual swing, trough to peak. A hysteresis with a
/// threshold that follows the swings, of no publication; every number in it is our own, from rehearsed light.
/// </summary>
/// <remarks>
/// The usual swing (<see cref="UsualSize"/>) begins as that of a sine with the power of the first two seconds in which anything moves, and follows by 15 % of
/// the way; patience without a pulse is 2 s.
/// </remarks>
/// <param name="rateHz">Of the samples.</param>
public sealed class ThresholdDetector(double rateHz) : IBeatDetector
{
    public const double LearnSeconds = 2;
    public const double ThresholdPart = 0.4;
    public const double PatienceSeconds = 2;

    private const double SwingShare = 0.15;
    private const double CrestOfPower = 1.2; // a pulse is more pointed than the sine of its power

    private readonly double[] first = new double[(int)Math.Ceiling(LearnSeconds * rateHz)];
    private readonly int patience = (int)Math.Round(PatienceSeconds * rateHz);
    private UsualSize swing = new(rateHz, SwingShare, ThresholdPart);
    private long count, extremeIndex, troughIndex, lastFound;
    private int learnt;
    private double extreme, trough;
    private bool isRising;

    public string Name => "threshold on the swing (plain, no publication)";

    /// <summary>It waits for the fall, but not longer than this.</summary>
    public int LatencySamples { get; } = (int)Math.Ceiling(rateHz);

    public void Push(ReadOnlySpan<double> pulse, PulseList found)
    {
        ArgumentNullException.ThrowIfNull(found);
        while (learnt < first.Length && pulse.Length > 0)
        {
            int length = Math.Min(pulse.Length, first.Length - learnt);
            pulse[..length].CopyTo(first.AsSpan(learnt));
            learnt += length;
            count += length;
            pulse = pulse[length..];
            if (learnt == first.Length) Start(found);
        }

        foreach (double value in pulse) Step(value, count++, found);
    }

    public void End(PulseList found)
    {
        ArgumentNullException.ThrowIfNull(found);
        if (learnt > 0 && learnt < first.Length) Start(found);
    }

    public void Reset()
    {
        count = 0;
        learnt = 0;
    }

    private void Start(PulseList found)
    {
        var known = first.AsSpan(0, learnt);
        double power = 0;
        foreach (double value in known) power += value * value;
        if (!(power > 0))
        {
            learnt = 0; // nothing moves: learn from what comes next
            return;
        }

        long from = count - learnt;
        swing.Start(CrestOfPower * 2 * Math.Sqrt(2 * power / learnt));
        isRising = true;
        extreme = known[0];
        extremeIndex = lastFound = from;
        troughIndex = -1;
        for (int i = 0; i < known.Length; i++) Step(known[i], from + i, found);
    }

    private void Step(double value, long index, PulseList found)
    {
        if (index - lastFound > patience) swing.Fade();
        double ahead = isRising ? value - extreme : extreme - value;
        if (ahead > 0)
        {
            extreme = value;
            extremeIndex = index;
        }
        else if (-ahead > swing.Threshold || (isRising && troughIndex >= 0 && index - extremeIndex == LatencySamples))
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
        swing.Take(extreme - trough);
        lastFound = index;
    }
}
