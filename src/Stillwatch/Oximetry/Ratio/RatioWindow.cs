namespace Stillwatch.Oximetry.Ratio;

/// <summary>The ratio of ratios over the averaging window.</summary>
/// <param name="Ratio">NaN: none.</param>
/// <param name="Spread">One standard error of it, from how the beats scatter; NaN with fewer than two.</param>
/// <param name="Scatter">How far single beats lie from it, as a share of it: weighted median of the distances × 1.4826; NaN with fewer than two.</param>
/// <param name="Beats">Beats that it rests on: those with a weight.</param>
/// <param name="Apart">How far its two estimates lie apart, as a share of it; NaN with fewer than two beats.</param>
public readonly record struct CombinedRatio(double Ratio, double Spread, double Scatter, int Beats, double Apart)
{
    public static CombinedRatio None => new(double.NaN, double.NaN, double.NaN, 0, double.NaN);
}

/// <summary>
/// Puts the beats of the averaging window together: each of the two estimators by itself, weighted by quality, so that one wild beat does not move it;
/// then both, each the lighter the more its beats scatter. Fixed memory, nothing allocated after it is made.
/// </summary>
/// <remarks>
/// Within an estimator: weighted median as first guess, beats weighted down by Tukey's biweight (constant 6, from memory) of their
/// distance in robust spreads, then their sums put together and solved once. Adding sums before solving, not averaging solved ratios, keeps
/// small pulses from reading low: the bias of a quotient goes with the noise of its denominator.
/// </remarks>
public sealed class RatioWindow
{
    private const double MedianToDeviation = 1.4826; // of the normal distribution
    private const double BiweightConstant = 6; // wide, as is usual for a location with few values
    private const double FewBeats = 2; // own choice: with n beats the robust spread is taken as (1 + 2/n) times itself, for by chance it is often small
    private const double LeastSpread = 0.002; // of the ratio: closer agreement is chance, and must not make a weight without end
    private const double GreatestBeat = 2; // a beat counts at most as one of twice the median size
    private const int MostBeatsPerMinute = 300; // above any pulse rate that passes

    private readonly Entry[] ring;
    private readonly double[] keys, weights, sorted;
    private readonly int[] order;
    private int first, count;

    /// <param name="heldSeconds">The longest stretch of beats that it is to hold: the window, and what comes in after it before it is asked.</param>
    public RatioWindow(double heldSeconds)
    {
        int capacity = (int)Math.Ceiling(heldSeconds * MostBeatsPerMinute / 60) + 4;
        ring = new Entry[capacity];
        keys = new double[capacity];
        weights = new double[capacity];
        sorted = new double[capacity];
        order = new int[capacity];
    }

    /// <summary>Takes the next beat. One without a ratio or with no quality is left out.</summary>
    /// <param name="upstrokeSeconds">Not before the last one's.</param>
    /// <param name="beat">Its two estimates and sums.</param>
    /// <param name="quality">0 to 1; its square is the weight.</param>
    public void Add(double upstrokeSeconds, in BeatRatio beat, double quality)
    {
        if (!(quality > 0) || !double.IsFinite(beat.Slope) || !double.IsFinite(beat.PeakTrough)) return;
        if (count == ring.Length)
        {
            first = (first + 1) % ring.Length;
            count--;
        }

        ring[(first + count++) % ring.Length] = new Entry(upstrokeSeconds, beat, quality * quality, beat.Sums.Size(beat.NoiseRatio));
    }

    /// <summary>The ratio over (from, to]; beats before it are forgotten, beats after it are left for later.</summary>
    public CombinedRatio Combine(double fromSeconds, double toSeconds)
    {
        while (count > 0 && ring[first].Seconds <= fromSeconds)
        {
            first = (first + 1) % ring.Length;
            count--;
        }

        int beats = 0;
        while (beats < count && ring[(first + beats) % ring.Length].Seconds <= toSeconds) beats++;
        if (beats == 0) return CombinedRatio.None;
        double size = MedianSize(beats);
        var slope = Estimate(beats, size, peakTrough: false);
        var peak = Estimate(beats, size, peakTrough: true);
        if (beats == 1 || !double.IsFinite(peak.Value) || !double.IsFinite(slope.Value))
            return new CombinedRatio(slope.Value, double.NaN, double.NaN, beats, double.NaN);
        double slopeWeight = 1 / (slope.Error * slope.Error), peakWeight = 1 / (peak.Error * peak.Error);
        double ratio = (slope.Value * slopeWeight + peak.Value * peakWeight) / (slopeWeight + peakWeight);
        // Both estimators see the same noise: the better one's error, not the smaller one of two independent ones.
        return new CombinedRatio(ratio, Math.Min(slope.Error, peak.Error), Math.Min(slope.Scatter, peak.Scatter), beats, Math.Abs(slope.Value - peak.Value) / ratio);
    }

    /// <summary>Forgets all beats.</summary>
    public void Reset() => count = 0;

    private double MedianSize(int beats)
    {
        for (int i = 0; i < beats; i++) keys[i] = At(i).Size;
        keys.AsSpan(0, beats).Sort();
        return keys[beats / 2];
    }

    private Solved Estimate(int beats, double size, bool peakTrough)
    {
        for (int i = 0; i < beats; i++)
        {
            ref readonly var entry = ref At(i);
            keys[i] = peakTrough ? entry.Beat.PeakTrough : entry.Beat.Slope;
            weights[i] = entry.Weight * Math.Min(1, entry.Size / size);
        }

        double middle = WeightedMedian(beats);
        for (int i = 0; i < beats; i++) keys[i] = Math.Abs((peakTrough ? At(i).Beat.PeakTrough : At(i).Beat.Slope) - middle);
        double deviation = Math.Max((1 + FewBeats / beats) * MedianToDeviation * WeightedMedian(beats), LeastSpread * Math.Abs(middle));
        Solved solved = default;
        double sum = 0, squares = 0, xx = 0, xy = 0, yy = 0, noise = 0, red = 0, infrared = 0;
        for (int i = 0; i < beats; i++)
        {
            var beat = At(i).Beat;
            double distance = ((peakTrough ? beat.PeakTrough : beat.Slope) - middle) / (BiweightConstant * deviation);
            double inside = 1 - distance * distance;
            if (inside <= 0) continue;
            double weight = weights[i] * inside * inside;
            sum += weight;
            squares += weight * weight;
            // The size is already in the sums: only what is above the greatest one is taken back.
            double share = At(i).Weight * inside * inside * Math.Min(1, GreatestBeat * size / At(i).Size);
            xx += share * beat.Sums.Xx;
            xy += share * beat.Sums.Xy;
            yy += share * beat.Sums.Yy;
            noise += share * beat.NoiseRatio * beat.Sums.Xx;
            double height = share * beat.InfraredAmplitude;
            infrared += height;
            red += share * beat.RedAmplitude;
        }

        solved.Value = peakTrough ? red / infrared : BeatRatios.Slope(new PairSums(xx, xy, yy, beats), noise / xx);
        double effective = sum * sum / squares;
        solved.Scatter = deviation / Math.Abs(middle);
        solved.Error = deviation / Math.Sqrt(effective);
        return solved;
    }

    private double WeightedMedian(int beats)
    {
        for (int i = 0; i < beats; i++)
        {
            order[i] = i;
            sorted[i] = keys[i];
        }

        sorted.AsSpan(0, beats).Sort(order.AsSpan(0, beats));
        double total = 0;
        for (int i = 0; i < beats; i++) total += weights[i];
        double passed = 0;
        for (int i = 0; i < beats; i++)
        {
            passed += weights[order[i]];
            if (passed > total / 2) return sorted[i];
            if (passed == total / 2 && i + 1 < beats) return (sorted[i] + sorted[i + 1]) / 2;
        }

        return sorted[beats - 1];
    }

    private ref readonly Entry At(int index) => ref ring[(first + index) % ring.Length];

    private readonly record struct Entry(double Seconds, BeatRatio Beat, double Weight, double Size);

    private struct Solved
    {
        public double Value, Error, Scatter;
    }
}
