namespace Stillwatch.Oximetry.Beats;

/// <summary>
/// The slope-sum detector: the rises of the last 0.128 s added up make of every upstroke a hump, and a threshold that follows the humps finds them
/// (Zong, Heldt, Moody, Mark: Computers in Cardiology 2003;30:259; its lengths and parts from memory).
/// </summary>
/// <remarks>
/// As published: the window of 128 ms, trough and peak sought 150 ms around the crossing, eyes closed after a pulse, patience of 2.5 s. Our own, from rehearsed
/// light, for small children, slow hearts and short latency: the threshold at half of the level instead of 60 %, so that deep breathing loses no pulse;
/// the first level is the highest hump of 2 s instead of three times the mean of 10, and one hump moves it by a quarter of the way (<see cref="UsualSize"/>);
/// eyes are closed for 0.2 s (300 a minute) and until the peak; trough and peak are followed on while the slope goes on.
/// </remarks>
/// <param name="rateHz">Of the samples.</param>
public sealed class SlopeSumDetector(double rateHz) : IBeatDetector
{
    public const double WindowSeconds = 0.128;
    public const double LearnSeconds = 2;
    public const double ThresholdPart = 0.5;
    public const double EyesClosedSeconds = 0.2;
    public const double SearchSeconds = 0.15;
    public const double PatienceSeconds = 2.5;

    private const double LevelShare = 0.25;
    private const int SumAnewSamples = 4096; // rounding does not add up

    private readonly int window = Math.Max(1, (int)Math.Round(WindowSeconds * rateHz));
    private readonly int learn = (int)Math.Ceiling(LearnSeconds * rateHz);
    private readonly int closed = (int)Math.Round(EyesClosedSeconds * rateHz);
    private readonly int search = Math.Max(2, (int)Math.Round(SearchSeconds * rateHz));
    private readonly int patience = (int)Math.Round(PatienceSeconds * rateHz);
    private readonly int longestRise = (int)rateHz;
    private UsualSize level = new(rateHz, LevelShare, ThresholdPart);
    private readonly int mask = Capacity(rateHz) - 1;
    private readonly double[] pulses = new double[Capacity(rateHz)]; // rings by index
    private readonly double[] rises = new double[Capacity(rateHz)];
    private readonly double[] sums = new double[Capacity(rateHz)];
    private long count, scanned, lastCrossing, lastPeak, fadedTo;
    private double sum;
    private bool isLearnt;

    public string Name => "slope sum (Zong et al., Computers in Cardiology 2003;30:259)";

    public int LatencySamples => search + 1;

    public void Push(ReadOnlySpan<double> pulse, PulseList found)
    {
        ArgumentNullException.ThrowIfNull(found);
        while (pulse.Length > 0)
        {
            int length = Math.Min(pulse.Length, search);
            Enter(pulse[..length]);
            pulse = pulse[length..];
            Scan(found, isEnd: false);
        }
    }

    public void End(PulseList found)
    {
        ArgumentNullException.ThrowIfNull(found);
        Scan(found, isEnd: true);
    }

    public void Reset()
    {
        Array.Clear(rises);
        count = scanned = 0;
        sum = 0;
        isLearnt = false;
        lastCrossing = long.MinValue / 2;
        lastPeak = 0;
        fadedTo = -1;
    }

    private static int Capacity(double rateHz) => (int)System.Numerics.BitOperations.RoundUpToPowerOf2((uint)Math.Ceiling((LearnSeconds + 2) * rateHz));

    private void Enter(ReadOnlySpan<double> pulse)
    {
        foreach (double value in pulse)
        {
            int at = (int)(count & mask);
            pulses[at] = value;
            rises[at] = count == 0 ? 0 : Math.Max(0, value - pulses[(int)((count - 1) & mask)]);
            if (count % SumAnewSamples == 0)
            {
                sum = 0;
                for (int i = 1; i < window; i++) sum += rises[(int)((count - i) & mask)];
                sum += rises[at];
            }
            else
            {
                sum += rises[at] - rises[(int)((count - window) & mask)];
            }

            sums[at] = sum;
            count++;
        }
    }

    private void Scan(PulseList found, bool isEnd)
    {
        if (!isLearnt && !Learn(isEnd)) return;
        for (; scanned < count; scanned++)
        {
            if (scanned - lastCrossing > patience && fadedTo < scanned)
            {
                level.Fade();
                fadedTo = scanned;
            }

            double threshold = level.Threshold;
            bool crosses = scanned > lastPeak && sums[(int)(scanned & mask)] >= threshold && sums[(int)((scanned - 1) & mask)] < threshold;
            if (crosses && scanned - lastCrossing >= closed)
            {
                if (!TryPeak(isEnd, out long peak, out double hump)) return; // comes here again
                long trough = TroughBefore(scanned);
                if (peak > trough) found.Add(new PulseMark(trough, peak));
                level.Take(hump);
                lastPeak = peak;
                lastCrossing = scanned;
            }
        }
    }

    private bool Learn(bool isEnd)
    {
        while (count >= scanned + learn || (isEnd && count > scanned))
        {
            double highest = 0;
            int known = (int)Math.Min(count - scanned, learn);
            for (long i = scanned; i < scanned + known; i++) highest = Math.Max(highest, sums[(int)(i & mask)]);
            if (highest > 0)
            {
                level.Start(highest);
                isLearnt = true;
                return true;
            }

            scanned += known; // nothing moves
        }

        return false;
    }

    /// <summary>The highest sample after the crossing, and the highest slope sum up to it; false where more samples are needed.</summary>
    private bool TryPeak(bool isEnd, out long peak, out double hump)
    {
        peak = scanned;
        hump = sums[(int)(scanned & mask)];
        double highest = pulses[(int)(scanned & mask)];
        for (long i = scanned + 1; i < count; i++)
        {
            double value = pulses[(int)(i & mask)];
            bool isNear = i - scanned <= search, goesOn = i == peak + 1 && value > highest && i - scanned <= longestRise;
            if (!isNear && !goesOn) return true;
            if (value <= highest) continue;
            highest = value;
            peak = i;
            hump = Math.Max(hump, sums[(int)(i & mask)]);
        }

        return isEnd;
    }

    private long TroughBefore(long crossing)
    {
        long trough = crossing, first = lastPeak == 0 ? 0 : lastPeak + 1;
        double lowest = pulses[(int)(crossing & mask)];
        for (long i = crossing - 1; i >= first; i--)
        {
            double value = pulses[(int)(i & mask)];
            bool isNear = crossing - i <= search, goesOn = i == trough - 1 && value < lowest && crossing - i <= longestRise;
            if (!isNear && !goesOn) break;
            if (value >= lowest) continue;
            lowest = value;
            trough = i;
        }

        return trough;
    }
}
