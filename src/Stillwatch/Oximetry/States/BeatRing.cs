using Stillwatch.Oximetry.Quality;
using Stillwatch.Oximetry.Ratio;

namespace Stillwatch.Oximetry.States;

internal readonly record struct BeatNote(double Seconds, double Amplitude, double Quality, BeatFeatures Features, BeatRatio Ratio);

/// <summary>What some beats have in common; medians are NaN without beats.</summary>
internal readonly record struct BeatSummary(
    int Beats, int GoodBeats, double Amplitude, double IntervalSeconds, double Correlation, double Skewness, double Wander,
    double AmplitudeSpread, double IntervalSpread, PairSums Sums);

/// <summary>The latest beats, in order, and their medians over a stretch of time. Fixed memory.</summary>
internal sealed class BeatRing
{
    /// <summary>A beat of at least this quality counts as good. Own choice.</summary>
    public const double GoodQuality = 0.3;

    private readonly BeatNote[] ring;
    private readonly double[] sorted;
    private int first, count;

    public BeatRing(double heldSeconds)
    {
        ring = new BeatNote[(int)Math.Ceiling(heldSeconds * 5) + 8];
        sorted = new double[ring.Length];
    }

    public void Add(in BeatNote note)
    {
        if (count == ring.Length)
        {
            first = (first + 1) % ring.Length;
            count--;
        }

        ring[(first + count++) % ring.Length] = note;
    }

    public void Clear() => count = 0;

    /// <summary>Beats of (from, to].</summary>
    public BeatSummary Between(double fromSeconds, double toSeconds)
    {
        int low = 0, high = count;
        while (low < high && At(low).Seconds <= fromSeconds) low++;
        while (high > low && At(high - 1).Seconds > toSeconds) high--;
        return Summary(low, high);
    }

    /// <summary>Beats at most that far from a time; where they are fewer than three, the nearest three of those twice as far.</summary>
    public BeatSummary Near(double seconds, double distance)
    {
        int low = 0, high = count;
        while (low < high && At(low).Seconds <= seconds - 2 * distance) low++;
        while (high > low && At(high - 1).Seconds > seconds + 2 * distance) high--;
        while (high - low > 3)
        {
            double before = seconds - At(low).Seconds, after = At(high - 1).Seconds - seconds;
            if (Math.Max(before, after) <= distance) break;
            if (before > after) low++;
            else high--;
        }

        return Summary(low, high);
    }

    private BeatSummary Summary(int low, int high)
    {
        int beats = high - low, good = 0;
        if (beats == 0) return new BeatSummary(0, 0, double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, default);
        double xx = 0, xy = 0, yy = 0;
        int samples = 0;
        for (int i = low; i < high; i++)
        {
            ref readonly var note = ref At(i);
            if (note.Quality >= GoodQuality) good++;
            var sums = note.Ratio.Sums;
            xx += sums.Xx;
            xy += sums.Xy;
            yy += sums.Yy;
            samples += sums.Count;
        }

        for (int i = 0; i < beats; i++) sorted[i] = At(low + i).Amplitude;
        double amplitude = Median(beats), amplitudeSpread = sorted[beats - 1] / Math.Max(sorted[0], 1e-300);
        for (int i = 0; i < beats; i++) sorted[i] = At(low + i).Features.IntervalSeconds;
        double interval = Median(beats), intervalSpread = sorted[beats - 1] / sorted[0];
        for (int i = 0; i < beats; i++) sorted[i] = At(low + i).Features.Correlation;
        double correlation = Median(beats);
        for (int i = 0; i < beats; i++) sorted[i] = At(low + i).Features.Skewness;
        double skewness = Median(beats);
        for (int i = 0; i < beats; i++) sorted[i] = Math.Abs(At(low + i).Features.BaselineChange);
        return new BeatSummary(beats, good, amplitude, interval, correlation, skewness, Median(beats), amplitudeSpread, intervalSpread, new PairSums(xx, xy, yy, samples));
    }

    private double Median(int length)
    {
        sorted.AsSpan(0, length).Sort();
        return length % 2 == 1 ? sorted[length / 2] : (sorted[length / 2 - 1] + sorted[length / 2]) / 2;
    }

    private ref readonly BeatNote At(int index) => ref ring[(first + index) % ring.Length];
}
