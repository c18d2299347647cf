using Stillwatch.Rehearsal;

namespace Stillwatch.Tests.Oximetry.Ratio;

/// <summary>Beats of an invented shape: a steep rise, a slow fall with a small second wave; no physiology claimed.</summary>
internal static class InventedBeats
{
    /// <summary>One beat of that many samples, trough to trough, of amplitude about 1.</summary>
    public static double[] Beat(int samples = 125, double amplitude = 1)
    {
        var beat = new double[samples];
        for (int i = 0; i < samples; i++) beat[i] = amplitude * Height(i / (samples - 1.0));
        return beat;
    }

    /// <summary>Position of the greatest sample.</summary>
    public static int PeakOf(ReadOnlySpan<double> beat)
    {
        int peak = 0;
        for (int i = 1; i < beat.Length; i++)
            if (beat[i] > beat[peak]) peak = i;
        return peak;
    }

    /// <summary>Noise smoothed over a tenth of a second twice, as the band-pass leaves it, with that standard deviation.</summary>
    public static double[] Noise(SeededRandom random, int samples, double deviation)
    {
        const int width = 12;
        var white = new double[samples + 2 * width];
        for (int i = 0; i < white.Length; i++) white[i] = random.Normal();
        var once = new double[samples + width];
        for (int i = 0; i < once.Length; i++) once[i] = white.AsSpan(i, width).ToArray().Sum();
        var twice = new double[samples];
        for (int i = 0; i < samples; i++) twice[i] = once.AsSpan(i, width).ToArray().Sum();
        double gain = Math.Sqrt(Enumerable.Range(1 - width, 2 * width - 1).Sum(k => (double)(width - Math.Abs(k)) * (width - Math.Abs(k))));
        for (int i = 0; i < samples; i++) twice[i] *= deviation / gain;
        return twice;
    }

    private static double Height(double t) =>
        t < 0.2 ? 0.5 - 0.5 * Math.Cos(Math.PI * t / 0.2) : Math.Max(0, (1 - t) / 0.8 * (0.75 + 0.25 * Math.Cos((t - 0.2) * 9)));
}
