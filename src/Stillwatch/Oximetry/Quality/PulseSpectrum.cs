using System.Numerics.Tensors;

namespace Stillwatch.Oximetry.Quality;

/// <summary>
/// Which frequencies the band-passed pulse of the last seconds is made of: bins of 1/8 Hz up to 7⅞ Hz over a window of 8 s with a Hann taper. Each second is
/// transformed once and kept; a window is a sum of eight. Fixed memory.
/// </summary>
/// <remarks>
/// Samples are thinned to about 25 Hz first, which the band-pass allows (its 0.1 s double mean leaves at most 5 % of what would fold back below
/// 8 Hz). The taper is laid on in frequency: half a bin minus a quarter of each neighbour, turned to where the window begins.
/// </remarks>
public sealed class PulseSpectrum
{
    /// <summary>Bins, from 0 Hz on.</summary>
    public const int Bins = 64;

    /// <summary>Length of the window, and so bins per hertz.</summary>
    public const int WindowSeconds = 8;

    private const double ThinnedHz = 25;
    private const int LowestBin = WindowSeconds / 2; // 0.5 Hz: below is breathing

    private readonly double rateHz;
    private readonly int stride, heldSeconds;
    private readonly double[][] cosines, sines, realOf, imaginaryOf, redRealOf, redImaginaryOf;
    private readonly double[] real = new double[Bins], imaginary = new double[Bins], power = new double[Bins];
    private readonly bool[] taken = new bool[Bins];
    private long samples, nextSecond, firstSecond, openFrom, openTo;

    /// <param name="rateHz">Samples a second.</param>
    /// <param name="heldSeconds">How many of the latest seconds a window may lie in.</param>
    /// <param name="hasRed">Whether red is transformed beside it, for <see cref="SpectralShares.LineSlope"/>.</param>
    public PulseSpectrum(double rateHz, int heldSeconds, bool hasRed = false)
    {
        this.rateHz = rateHz;
        this.heldSeconds = heldSeconds;
        stride = Math.Max(1, (int)(rateHz / ThinnedHz));
        int most = (int)(rateHz / stride) + 2;
        cosines = new double[most][];
        sines = new double[most][];
        for (int n = 0; n < most; n++)
        {
            cosines[n] = new double[Bins];
            sines[n] = new double[Bins];
            for (int k = 0; k < Bins; k++) (sines[n][k], cosines[n][k]) = Math.SinCos(-2 * Math.PI * k * n * stride / (WindowSeconds * rateHz));
        }

        (realOf, imaginaryOf) = (Rows(heldSeconds), Rows(heldSeconds));
        (redRealOf, redImaginaryOf) = hasRed ? (Rows(heldSeconds), Rows(heldSeconds)) : ([], []);
    }

    /// <summary>Power of each bin of the last window that was opened, in the pulse's unit squared, up to a constant factor.</summary>
    public ReadOnlySpan<double> Power => power;

    /// <summary>Power from 0.5 Hz on.</summary>
    public double Total { get; private set; }

    public void Reset() => samples = nextSecond = firstSecond = 0;

    /// <summary>Takes the samples of the next second; none: nothing was seen. Red may be empty.</summary>
    public void Take(ReadOnlySpan<double> pulse, ReadOnlySpan<double> red)
    {
        long row = nextSecond % heldSeconds;
        Transform(pulse, realOf[row], imaginaryOf[row]);
        if (redRealOf.Length > 0) Transform(red, redRealOf[row], redImaginaryOf[row]);
        samples = pulse.IsEmpty ? (long)Math.Round((nextSecond + 1) * rateHz) : samples + pulse.Length;
        nextSecond++;
        firstSecond = Math.Max(firstSecond, nextSecond - heldSeconds);
    }

    /// <summary>Opens the window of eight seconds, counted from the reset, around one of them, as far as they are there.</summary>
    public void Open(long second)
    {
        long from = Math.Max(firstSecond, Math.Min(second - WindowSeconds / 2, nextSecond - WindowSeconds));
        long to = Math.Min(nextSecond, from + WindowSeconds);
        (openFrom, openTo) = (from, to);
        Array.Clear(real);
        Array.Clear(imaginary);
        for (long s = from; s < to; s++)
        {
            TensorPrimitives.Add(real, realOf[s % heldSeconds], real);
            TensorPrimitives.Add(imaginary, imaginaryOf[s % heldSeconds], imaginary);
        }

        var taper = Math.SinCos(2 * Math.PI * (from % WindowSeconds) / WindowSeconds);
        Total = 0;
        power[0] = power[Bins - 1] = 0;
        for (int k = 1; k < Bins - 1; k++)
        {
            var (re, im) = Tapered(taper, real[k - 1], real[k], real[k + 1], imaginary[k - 1], imaginary[k], imaginary[k + 1]);
            power[k] = re * re + im * im;
            if (k >= LowestBin) Total += power[k];
        }
    }

    /// <summary>
    /// Share of the power that lies at the pulse rate and its multiples, the strongest line beside them, and the strongest line of all.
    /// </summary>
    public SpectralShares Shares(double pulseHz)
    {
        if (!(Total > 0)) return SpectralShares.None;
        Array.Clear(taken);
        double family = 0;
        for (int multiple = 1; multiple * pulseHz < (Bins - 1.0) / WindowSeconds && multiple <= 8; multiple++)
        {
            // Main lobe of the taper, and the width that a varying rate gives: own choice.
            double half = Math.Max(0.27, 0.08 * multiple * pulseHz);
            int low = Math.Max(LowestBin, (int)Math.Ceiling((multiple * pulseHz - half) * WindowSeconds));
            int high = Math.Min(Bins - 1, (int)Math.Floor((multiple * pulseHz + half) * WindowSeconds));
            for (int k = low; k <= high; k++)
            {
                if (taken[k]) continue;
                taken[k] = true;
                family += power[k];
            }
        }

        int line = -1;
        for (int k = LowestBin; k < Bins - 1; k++)
        {
            if (!taken[k] && (line < 0 || power[k] > power[line])) line = k;
        }

        double lineShare = 0, lineHz = double.NaN, lineSlope = double.NaN;
        if (line >= 0)
        {
            double lobe = 0, around = 0;
            for (int k = Math.Max(LowestBin, line - 6); k <= Math.Min(Bins - 2, line + 6); k++)
            {
                if (taken[k]) continue;
                around += power[k];
                if (Math.Abs(k - line) <= 2) lobe += power[k];
            }

            // A line stands alone; what fills its surroundings is no line.
            if (lobe > 0.9 * around)
            {
                lineShare = lobe / Total;
                lineHz = (double)line / WindowSeconds;
                lineSlope = SlopeAt(line);
            }
        }

        int peak = LowestBin;
        for (int k = LowestBin + 1; k < Bins - 1; k++)
        {
            if (power[k] > power[peak]) peak = k;
        }

        double overtone = 2 * peak + 1 < Bins - 1 ? Lobe(2 * peak) / Lobe(peak) : double.NaN;
        int pulse = pulseHz > 0 ? (int)Math.Clamp(Math.Round(pulseHz * WindowSeconds), LowestBin, Bins - 2) : 0;
        return new SpectralShares(family / Total, lineShare, lineHz, lineSlope, (double)peak / WindowSeconds, overtone, SlopeAt(peak), pulse > 0 ? SlopeAt(pulse) : double.NaN);
    }

    // A line off the grid spreads over three bins; twice its frequency may lie half a bin further.
    private double Lobe(int bin) => power[bin - 1] + power[bin] + power[bin + 1];

    // Of red on infrared in one bin: what of red is in step with infrared, over infrared.
    private double SlopeAt(int bin)
    {
        if (redRealOf.Length == 0) return double.NaN;
        double before = 0, at = 0, after = 0, beforeIm = 0, atIm = 0, afterIm = 0;
        for (long s = openFrom; s < openTo; s++)
        {
            var (re, im) = (redRealOf[s % heldSeconds], redImaginaryOf[s % heldSeconds]);
            (before, at, after) = (before + re[bin - 1], at + re[bin], after + re[bin + 1]);
            (beforeIm, atIm, afterIm) = (beforeIm + im[bin - 1], atIm + im[bin], afterIm + im[bin + 1]);
        }

        var taper = Math.SinCos(2 * Math.PI * (openFrom % WindowSeconds) / WindowSeconds);
        var red = Tapered(taper, before, at, after, beforeIm, atIm, afterIm);
        var pulse = Tapered(taper, real[bin - 1], real[bin], real[bin + 1], imaginary[bin - 1], imaginary[bin], imaginary[bin + 1]);
        return (red.Re * pulse.Re + red.Im * pulse.Im) / power[bin];
    }

    private static (double Re, double Im) Tapered(
        (double Sin, double Cos) taper, double before, double at, double after, double beforeIm, double atIm, double afterIm) =>
        (0.5 * at - 0.25 * (taper.Cos * (before + after) + taper.Sin * (beforeIm - afterIm)),
            0.5 * atIm - 0.25 * (taper.Cos * (beforeIm + afterIm) - taper.Sin * (before - after)));

    private void Transform(ReadOnlySpan<double> band, double[] re, double[] im)
    {
        Array.Clear(re);
        Array.Clear(im);
        int first = (int)((stride - samples % stride) % stride);
        int n = 0;
        for (int i = first; i < band.Length && n < cosines.Length; i += stride, n++)
        {
            TensorPrimitives.MultiplyAdd(cosines[n], band[i], re, re);
            TensorPrimitives.MultiplyAdd(sines[n], band[i], im, im);
        }

        Turn(re, im, (samples + first) / rateHz);
    }

    private static double[][] Rows(int count)
    {
        var rows = new double[count][];
        for (int i = 0; i < count; i++) rows[i] = new double[Bins];
        return rows;
    }

    // Counts the phase from second 0 instead of from the block's first sample.
    private static void Turn(double[] re, double[] im, double seconds)
    {
        var (sine, cosine) = Math.SinCos(-2 * Math.PI * (seconds % WindowSeconds) / WindowSeconds);
        double turnRe = 1, turnIm = 0;
        for (int k = 0; k < Bins; k++)
        {
            (re[k], im[k]) = (re[k] * turnRe - im[k] * turnIm, re[k] * turnIm + im[k] * turnRe);
            (turnRe, turnIm) = (turnRe * cosine - turnIm * sine, turnRe * sine + turnIm * cosine);
        }
    }
}

/// <summary>What a window's power says.</summary>
/// <param name="Pulse">Share at the pulse rate and its multiples, 0 to 1; NaN: nothing moves.</param>
/// <param name="Line">Share of the strongest narrow line beside them; 0: none.</param>
/// <param name="LineHz">Where it is; NaN: none.</param>
/// <param name="LineSlope">Slope of red on infrared in that line; NaN: no line, or no red.</param>
/// <param name="PeakHz">Where the most power is.</param>
/// <param name="PeakOvertone">Power at twice that frequency over the power there; NaN: beyond the last bin.</param>
/// <param name="PeakSlope">Slope of red on infrared there; NaN: no red.</param>
/// <param name="PulseSlope">Slope of red on infrared at the pulse rate; NaN: no red, or no rate.</param>
public readonly record struct SpectralShares(
    double Pulse, double Line, double LineHz, double LineSlope, double PeakHz, double PeakOvertone, double PeakSlope, double PulseSlope)
{
    public static SpectralShares None { get; } = new(double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, double.NaN);
}
