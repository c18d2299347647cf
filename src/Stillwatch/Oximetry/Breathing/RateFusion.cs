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
    private readonly double[] beatNoise, intervalNoise, noiseSum; // what noise looks like once the spectrum is multiplied

    public RateFusion(double windowSeconds)
    {
        this.windowSeconds = windowSeconds;
        series = new double[(int)(windowSeconds * ModulationSeries.RateHz)];
        spectrum = new PowerSpectrum(series.Length, 512);
        power = new double[spectrum.Bins];
        sum = new double[spectrum.Bins];
        noiseSum = new double[spectrum.Bins];
        beatNoise = [.. Enumerable.Range(0, spectrum.Bins).Select(k => Math.Pow(k, 2))];
        intervalNoise = [.. Enumerable.Range(0, spectrum.Bins).Select(k => Math.Pow(k, 4))];
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
        Array.Clear(noiseSum);
        double weights = 0;
        double fromIntensity = Add(intensity, beatNoise, startSeconds, band, ref weights);
        double fromAmplitude = Add(amplitude, beatNoise, startSeconds, band, ref weights);
        double fromFrequency = Add(frequency, intervalNoise, startSeconds, band, ref weights);
        double rate = double.NaN;
        if (weights > 0)
        {
            var (bin, share, chance) = band.Greatest(sum, noiseSum);
            if (share - chance >= LeastConfidence * (1 - chance)) rate = PerMinute(bin);
        }

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
    private double Add(ModulationSeries modulation, ReadOnlySpan<double> noise, double startSeconds, Band band, ref double weights)
    {
        if (!modulation.Draw(startSeconds, series)) return double.NaN;
        spectrum.Of(series, power);
        for (int k = band.From - 1; k <= band.To + 1; k++) power[k] *= (double)k * k;
        var (bin, share, _) = band.Greatest(power, noise);
        if (!(share > 0)) return double.NaN;
        double weight = share * share, all = band.Total(power), allNoise = band.Total(noise);
        for (int k = band.From - 1; k <= band.To + 1; k++)
        {
            sum[k] += weight * power[k] / all;
            noiseSum[k] += weight * noise[k] / allNoise;
        }

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

        /// <summary>The greatest local peak, between bins by a parabola; the share of the power near it, and of noise by chance. NaN and 0: no peak.</summary>
        public (double Bin, double Share, double Chance) Greatest(ReadOnlySpan<double> power, ReadOnlySpan<double> noise)
        {
            int peak = 0;
            for (int k = From; k <= To; k++)
            {
                if (power[k] > power[k - 1] && power[k] >= power[k + 1] && (peak == 0 || power[k] > power[peak])) peak = k;
            }

            if (peak == 0) return (double.NaN, 0, 0);
            double near = 0, nearNoise = 0;
            for (int k = Math.Max(From, peak - Near); k <= Math.Min(To, peak + Near); k++) (near, nearNoise) = (near + power[k], nearNoise + noise[k]);
            return (Summit(power, peak), near / Total(power), nearNoise / Total(noise));
        }

        // Multiplying by the frequency squared moved the peak upwards, at slow rates by a third of a breath: its place is looked up in the spectrum before that.
        private double Summit(ReadOnlySpan<double> power, int peak)
        {
            int least = Math.Max(From, peak - Near);
            while (peak > least && Plain(power, peak - 1) > Plain(power, peak)) peak--;
            double left = Plain(power, peak - 1), middle = Plain(power, peak), right = Plain(power, peak + 1);
            double bend = left - 2 * middle + right;
            return bend < 0 && left <= middle && right <= middle ? peak + (left - right) / (2 * bend) : peak;
        }

        private static double Plain(ReadOnlySpan<double> power, int bin) => power[bin] / ((double)bin * bin);
    }
}
