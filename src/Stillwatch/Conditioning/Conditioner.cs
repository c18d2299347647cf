using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Conditioning;

/// <summary>
/// Rules R2, R4 and R6 for one channel, row by row: judges a row, averages, rounds. Hold and loss (R5, R9) belong to whoever
/// keeps the time; <see cref="HoldMilliseconds"/> says how long a value lasts. The one road by which a value reaches any
/// alarm decision, live or replayed.
/// </summary>
/// <remarks>No allocation per row, except that the averaging window may grow when rows come faster than the period says.</remarks>
public sealed class Conditioner
{
    private const long JumpMemoryMilliseconds = 3000;
    private const int JumpMicroPerMillisecond = 10_000; // 10 percentage points a second
    private const int ImplausibleBelowMicro = 30 * FixedPoint.One;
    private const int HundredPercentMicro = 100 * FixedPoint.One;

    private readonly ConditionedQuantity quantity;
    private readonly bool standard;
    private readonly bool rounds;
    private readonly long averagingMilliseconds; // 0: none
    private readonly long neededInWindow;

    private bool anyAccepted;
    private long lastAcceptedMilliseconds;
    private int lastAcceptedMicro;

    private long[] windowTimes = [];
    private int[] windowValues = [];
    private int windowHead;
    private int windowCount;
    private long windowSum;

    public Conditioner(ConditionedQuantity quantity, ConditioningSettings settings, Duration period)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(period.Milliseconds, 1);
        this.quantity = quantity;
        standard = settings.Validity == ValidityRule.Standard;
        rounds = settings.Rounding == Rounding.Display;
        HoldMilliseconds = settings.HoldAfter(period).Milliseconds;
        if (settings.Averaging > period)
        {
            averagingMilliseconds = settings.Averaging.Milliseconds;
            long twoPeriods = 2 * period.Milliseconds;
            neededInWindow = (averagingMilliseconds + twoPeriods - 1) / twoPeriods;
            long capacity = Math.Clamp(averagingMilliseconds / period.Milliseconds + 2, 4, 4096);
            windowTimes = new long[capacity];
            windowValues = new int[capacity];
        }
    }

    /// <summary>P + g: a compared value holds until the next, at most this long (R5). Also what clears the averaging window (R4).</summary>
    public long HoldMilliseconds { get; }

    /// <summary>Judges one row. Rows must come in rising time.</summary>
    /// <param name="milliseconds">The row's time.</param>
    /// <param name="micro">Its number in millionths, or <see cref="ValueColumn.Missing"/>.</param>
    /// <param name="flaggedBySource">The source says that it is not valid.</param>
    /// <param name="poorQuality">Signal quality is known and below its threshold.</param>
    /// <param name="compared">The new compared value (averaged, rounded) in millionths, where there is one.</param>
    /// <param name="hasCompared">False where the row is rejected or the averaging window holds too little (R4).</param>
    public SampleVerdict Accept(long milliseconds, int micro, bool flaggedBySource, bool poorQuality, out int compared, out bool hasCompared)
    {
        compared = 0;
        hasCompared = false;
        var verdict = Judge(milliseconds, micro, flaggedBySource, poorQuality);
        if (!verdict.IsAccepted()) return verdict;
        bool apart = anyAccepted && milliseconds - lastAcceptedMilliseconds > HoldMilliseconds;
        anyAccepted = true;
        lastAcceptedMilliseconds = milliseconds;
        lastAcceptedMicro = micro;
        if (averagingMilliseconds == 0)
        {
            compared = rounds ? FixedPoint.RoundToWhole(micro) : micro;
            hasCompared = true;
            return verdict;
        }

        if (apart) ClearWindow();
        Push(milliseconds, micro);
        if (windowCount < neededInWindow) return verdict;
        compared = rounds ? FixedPoint.MeanRoundedToWhole(windowSum, windowCount) : FixedPoint.Mean(windowSum, windowCount);
        hasCompared = true;
        return verdict;
    }

    /// <summary>
    /// Says that rows were accepted up to this one, which held <paramref name="micro"/>: the same as calling <see cref="Accept"/> for each,
    /// for a caller that knows that there is no averaging.
    /// </summary>
    internal void AcceptedUntil(long milliseconds, int micro)
    {
        lastAcceptedMilliseconds = milliseconds;
        lastAcceptedMicro = micro;
    }

    /// <summary>
    /// What rule R2 comes to for a row that follows an accepted one after <paramref name="step"/> milliseconds and that nobody else judges: it is
    /// accepted if its number lies above Above, at or below AtMost, and at most MostChange away. In hundredths, of numbers that are held as such.
    /// </summary>
    internal (int Above, int AtMost, long MostChange) NeighbourhoodInHundredths(long step)
    {
        if (!standard) return (short.MinValue, short.MaxValue, long.MaxValue); // the lowest of all is no number
        if (quantity == ConditionedQuantity.PulseRate) return (0, short.MaxValue, long.MaxValue);
        return (0, 100 * 100, step <= JumpMemoryMilliseconds ? step : long.MaxValue); // 10 % a second is a hundredth a millisecond
    }

    internal bool Rounds => rounds;

    internal bool Averages => averagingMilliseconds > 0;

    private SampleVerdict Judge(long milliseconds, int micro, bool flaggedBySource, bool poorQuality)
    {
        if (micro == ValueColumn.Missing) return SampleVerdict.NoNumber;
        if (!standard) return SampleVerdict.Accepted;
        if (flaggedBySource) return SampleVerdict.FlaggedBySource;
        if (micro <= 0) return SampleVerdict.OutOfRange;
        if (quantity == ConditionedQuantity.PulseRate) return SampleVerdict.Accepted;
        if (micro > HundredPercentMicro) return SampleVerdict.OutOfRange;
        if (poorQuality) return SampleVerdict.PoorQuality;
        if (anyAccepted)
        {
            long since = milliseconds - lastAcceptedMilliseconds;
            if (since <= JumpMemoryMilliseconds && Math.Abs(micro - lastAcceptedMicro) > JumpMicroPerMillisecond * since)
                return SampleVerdict.DoubtedJump;
        }

        return micro < ImplausibleBelowMicro ? SampleVerdict.AcceptedImplausible : SampleVerdict.Accepted;
    }

    private void ClearWindow()
    {
        windowHead = 0;
        windowCount = 0;
        windowSum = 0;
    }

    /// <summary>Adds a value and drops those at or before t − a: the window is (t − a, t].</summary>
    private void Push(long milliseconds, int micro)
    {
        long oldest = milliseconds - averagingMilliseconds;
        while (windowCount > 0 && windowTimes[windowHead] <= oldest)
        {
            windowSum -= windowValues[windowHead];
            windowHead = (windowHead + 1) % windowTimes.Length;
            windowCount--;
        }

        if (windowCount == windowTimes.Length) GrowWindow();
        int tail = (windowHead + windowCount) % windowTimes.Length;
        windowTimes[tail] = milliseconds;
        windowValues[tail] = micro;
        windowSum += micro;
        windowCount++;
    }

    // Bounded: times are distinct milliseconds, so a window never holds more than a (in ms) of them.
    private void GrowWindow()
    {
        var times = new long[windowTimes.Length * 2];
        var values = new int[times.Length];
        for (int i = 0; i < windowCount; i++)
        {
            int from = (windowHead + i) % windowTimes.Length;
            times[i] = windowTimes[from];
            values[i] = windowValues[from];
        }

        windowTimes = times;
        windowValues = values;
        windowHead = 0;
    }
}
