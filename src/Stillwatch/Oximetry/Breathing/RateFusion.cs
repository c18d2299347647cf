using Stillwatch.Dsp;

namespace Stillwatch.Oximetry.Breathing;

/// <summary>The respiratory rate of one window from its beats.</summary>
/// <remarks>
/// Each variation becomes an even series; of its rate of change (the spectrum times the frequency squared, which takes slow waves and drift down) the
/// power from 4 to 70 a minute is brought to a sum of 1. A peak's confidence is the share of the power within 2.5 a minute of it, above what noise from
/// beat to beat would have there: 0 no better than noise, 1 nothing else. The three spectra are added, weighed by the square of their confidence, and the
/// greatest peak of the sum is the rate. Karlen's fusion takes the mean of three rates or, where they differ by more than 4 a minute, nothing; here a variation
/// that does not breathe is outvoted instead. Refused: a sum whose confidence is below 0.38, or fewer than a few beats. Parameters were fixed on invented
/// beats. A slow wave of the circulation (about 6 a minute) that the three share cannot be told from slow breathing.
/// </remarks>
internal sealed class RateFusion
{
    internal const double LeastPerMinute = 4, GreatestPerMinute = 70, GreatestOfPulse = 0.475;
    private const double NearPeakPerMinute = 2.5;
    private const double LeastConfidence = 0.38;
    private const double LeastQuality = 0.3;

    // An interval outside these shares of its neighbours' median is an early beat, a pause or a missed beat, not breathing.
    private const double ShortInterval = 0.75, LongInterval = 1.3;
    private const int IntervalReach = 5;
    private const int HeldBeats = 1024;

    private readonly double windowSeconds;
    private readonly PowerSpectrum spectrum;
    private readonly ModulationSeries intensity = new(HeldBeats), amplitude = new(HeldBeats), frequency = new(HeldBeats);
    private readonly double[] intervals = new double[HeldBeats], usual = new double[HeldBeats];
    private readonly double[] series, power, sum;

    public RateFusion(double windowSeconds)
    {
        this.windowSeconds = windowSeconds;
        series = new double[(int)(windowSeconds * ModulationSeries.RateHz)];
        spectrum = new PowerSpectrum(series.Length, 512);
        power = new double[spectrum.Bins];
        sum = new double[spectrum.Bins];
    }

    public BreathingReading Read(double startSeconds, ReadOnlySpan<Beat> beats)
    {
        var refused = new BreathingReading(startSeconds, windowSeconds, double.NaN, double.NaN, double.NaN, double.NaN);
        if (beats.Length < 3) return refused;
        double pulsePerMinute = Collect(beats);
        double most = Math.Min(GreatestPerMinute, GreatestOfPulse * pulsePerMinute);
        var band = new Band(
            (int)Math.Ceiling(spectrum.BinOf(LeastPerMinute / 60, ModulationSeries.RateHz)),
            (int)Math.Floor(spectrum.BinOf(most / 60, ModulationSeries.RateHz)),
            (int)Math.Round(spectrum.BinOf(NearPeakPerMinute / 60, ModulationSeries.RateHz)));
        if (band.To - band.From < 3) return refused;
        Array.Clear(sum);
        double weights = 0;
        double fromIntensity = Add(intensity, startSeconds, band, ref weights);
        double fromAmplitude = Add(amplitude, startSeconds, band, ref weights);
        double fromFrequency = Add(frequency, startSeconds, band, ref weights);
        var (bin, confidence) = weights > 0 ? band.Greatest(sum) : (double.NaN, 0);
        double rate = confidence >= LeastConfidence ? PerMinute(bin) : double.NaN;
        return refused with { RatePerMinute = rate, FromIntensity = fromIntensity, FromAmplitude = fromAmplitude, FromFrequency = fromFrequency };
    }

    private double PerMinute(double bin) => 60 * spectrum.HertzOf(bin, ModulationSeries.RateHz);

    /// <summary>Sorts the beats' figures into the three variations; returns the median pulse rate.</summary>
    private double Collect(ReadOnlySpan<Beat> beats)
    {
        intensity.Clear();
        amplitude.Clear();
        frequency.Clear();
        int gaps = beats.Length - 1;
        for (int i = 0; i < gaps; i++) intervals[i] = beats[i + 1].UpstrokeSeconds - beats[i].UpstrokeSeconds;
        Medians.Around(intervals.AsSpan(0, gaps), IntervalReach, usual);
        for (int i = 0; i < beats.Length; i++)
        {
            bool poor = beats[i].Quality < LeastQuality;
            bool early = (i > 0 && intervals[i - 1] < ShortInterval * usual[i - 1]) || (i > 1 && intervals[i - 2] < ShortInterval * usual[i - 2]); // and the beat after it
            if (!poor && !early)
            {
                intensity.Add(beats[i].UpstrokeSeconds, beats[i].Baseline);
                amplitude.Add(beats[i].UpstrokeSeconds, beats[i].Amplitude);
            }

            if (i == gaps || poor || beats[i + 1].Quality < LeastQuality) continue;
            if (intervals[i] > ShortInterval * usual[i] && intervals[i] < LongInterval * usual[i])
                frequency.Add((beats[i].UpstrokeSeconds + beats[i + 1].UpstrokeSeconds) / 2, intervals[i]);
        }

        return 60 / Medians.InPlace(intervals.AsSpan(0, gaps));
    }

    /// <summary>Adds a variation's spectrum to the sum, by its confidence; returns its own rate, NaN where it has none.</summary>
    private double Add(ModulationSeries modulation, double startSeconds, Band band, ref double weights)
    {
        if (!modulation.Draw(startSeconds, series)) return double.NaN;
        spectrum.Of(series, power);
        for (int k = band.From - 1; k <= band.To + 1; k++) power[k] *= (double)k * k;
        var (bin, confidence) = band.Greatest(power);
        double weight = confidence * confidence;
        if (!(weight > 0)) return PerMinute(bin);
        double all = band.Total(power);
        for (int k = band.From - 1; k <= band.To + 1; k++) sum[k] += weight * power[k] / all;
        weights += weight;
        return PerMinute(bin);
    }

    /// <summary>The bins where breathing is looked for, and how many of them lie near a peak.</summary>
    private readonly record struct Band(int From, int To, int Near)
    {
        public double Total(ReadOnlySpan<double> power)
        {
            double total = 0;
            for (int k = From; k <= To; k++) total += power[k];
            return total;
        }

        /// <summary>The greatest local peak, between bins by a parabola, and its confidence; NaN and 0: none.</summary>
        public (double Bin, double Confidence) Greatest(ReadOnlySpan<double> power)
        {
            int peak = 0;
            for (int k = From; k <= To; k++)
            {
                if (power[k] > power[k - 1] && power[k] >= power[k + 1] && (peak == 0 || power[k] > power[peak])) peak = k;
            }

            if (peak == 0) return (double.NaN, 0);
            double near = 0, noise = 0, allNoise = 0;
            for (int k = From; k <= To; k++)
            {
                allNoise += (double)k * k; // white from beat to beat, times the frequency squared
                if (Math.Abs(k - peak) > Near) continue;
                near += power[k];
                noise += (double)k * k;
            }

            double bend = power[peak - 1] - 2 * power[peak] + power[peak + 1];
            double share = near / Total(power), chance = noise / allNoise;
            return (peak + (power[peak - 1] - power[peak + 1]) / (2 * bend), Math.Max(0, (share - chance) / (1 - chance)));
        }
    }
}
