namespace Stillwatch.Oximetry.Beats;

/// <summary>
/// The multi-scale peak-and-trough detector (Bishop &amp; Ercole, Acta Neurochir Suppl 2018;126:189), see <see cref="Scalogram"/>, in its efficient variant
/// (https://medluna.com/article/39978069): on a coarse grid, with distances only up to half a beat at 30 a minute, and what is found brought back to the
/// full rate.
/// </summary>
/// <remarks>
/// Windows of 6 s stand at fixed places, one each 2 s, and of each the 2 s in its middle are kept, so that the cutting never matters; at the segment's ends the
/// outer parts are kept too. No line is taken out of a window: the band-pass has done so. A pulse is a peak and the lowest trough since the peak
/// before. Window, step and grid (the rate divided by a whole number, near 25 a second): our own choice.
/// </remarks>
public sealed class PeaksAndTroughsDetector : IBeatDetector
{
    public const double StepSeconds = 2;
    public const double GridHz = 25;
    public const double SlowestPerMinute = 30;

    private readonly int every; // samples to a point of the grid
    private readonly int step, window; // points
    private readonly double[] points; // of the window that is being filled
    private readonly double[] recent; // samples by index, a ring
    private readonly int mask;
    private readonly Scalogram scalogram;
    private long count; // samples
    private long windowStart, kept; // points: the window's first; all before this were kept
    private int filled;
    private long trough; // the lowest since the last peak, -1: none
    private int untilPoint;

    /// <param name="rateHz">Of the samples.</param>
    public PeaksAndTroughsDetector(double rateHz)
    {
        every = Math.Max(1, (int)Math.Round(rateHz / GridHz));
        double gridHz = rateHz / every;
        step = (int)Math.Round(StepSeconds * gridHz);
        window = 3 * step;
        points = new double[window];
        scalogram = new Scalogram(window, (int)Math.Ceiling(60 / SlowestPerMinute * gridHz / 2));
        recent = new double[System.Numerics.BitOperations.RoundUpToPowerOf2((uint)((window + 2) * every + 1))];
        mask = recent.Length - 1;
        Reset();
    }

    public string Name => "peaks and troughs on many scales (Bishop & Ercole, Acta Neurochir Suppl 2018;126:189)";

    public int LatencySamples => (2 * step + 2) * every;

    public void Push(ReadOnlySpan<double> pulse, PulseList found)
    {
        ArgumentNullException.ThrowIfNull(found);
        foreach (double value in pulse)
        {
            recent[(int)(count++ & mask)] = value;
            if (--untilPoint > 0) continue;
            untilPoint = every;
            points[filled++] = value;
            if (windowStart == 0 && filled == 2 * step) Keep(step, found); // the first two steps need not wait for the third
            if (filled == window) Advance(found);
        }
    }

    public void End(PulseList found)
    {
        ArgumentNullException.ThrowIfNull(found);
        if (filled > 2) Keep(filled, found);
    }

    public void Reset()
    {
        count = windowStart = kept = 0;
        filled = 0;
        trough = -1;
        untilPoint = 1; // the first sample is the first point
    }

    private void Advance(PulseList found)
    {
        Keep(2 * step, found);
        points.AsSpan(step).CopyTo(points);
        filled = window - step;
        windowStart += step;
    }

    /// <summary>Takes over what the window finds in the points before this one that were not kept yet.</summary>
    private void Keep(int end, PulseList found)
    {
        scalogram.Run(points.AsSpan(0, filled));
        for (int i = (int)(kept - windowStart); i < end; i++)
        {
            if (scalogram.IsTrough(i))
            {
                long at = Refined(windowStart + i, sign: -1);
                if (trough < 0 || recent[(int)(at & mask)] < recent[(int)(trough & mask)]) trough = at;
            }
            else if (scalogram.IsPeak(i) && trough >= 0)
            {
                long peak = Refined(windowStart + i, sign: 1);
                if (peak > trough) found.Add(new PulseMark(trough, peak));
                trough = -1;
            }
        }

        kept = windowStart + end;
    }

    /// <summary>The extreme sample within a point of the grid.</summary>
    private long Refined(long point, int sign)
    {
        long middle = point * every, best = middle;
        for (long i = Math.Max(middle - every, 0); i <= middle + every && i < count; i++)
        {
            if (sign * recent[(int)(i & mask)] > sign * recent[(int)(best & mask)]) best = i;
        }

        return best;
    }
}
