using Stillwatch.Oximetry;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tests.Oximetry.Stream;

/// <summary>A pulse that can be written down: two cosine bumps a beat on a low tent, the second the dicrotic wave, no noise unless asked for.</summary>
internal static class PlainLight
{
    /// <summary>Blood volume above the trough, 0 to about 1, at a phase 0 to 1 of the beat.</summary>
    public static double Pulse(double phase)
    {
        double p = phase - Math.Floor(phase);
        return Bump(p, 0.22, 0.22) + 0.3 * Bump(p, 0.6, 0.25) + 0.1 * (p < 0.22 ? p / 0.22 : (1 - p) / 0.78); // nowhere level: that would be a converter at its end
    }

    /// <summary>Red and infrared light over seconds: mean levels, pulse part (trough to peak over mean) of the infrared and ratio of ratios.</summary>
    public static (double[] Infrared, double[] Red) Light(double rateHz, double seconds, double perMinute, double perfusionPercent, double ratio, double noise = 0, int seed = 1)
    {
        int count = (int)(rateHz * seconds);
        var (infrared, red) = (new double[count], new double[count]);
        var random = new Random(seed);
        for (int i = 0; i < count; i++)
        {
            double pulse = Pulse(i / rateHz * perMinute / 60);
            infrared[i] = 80_000 * Math.Exp(-perfusionPercent / 100 * (pulse + noise * Gauss(random)));
            red[i] = 50_000 * Math.Exp(-perfusionPercent / 100 * (ratio * pulse + noise * Gauss(random)));
        }

        return (infrared, red);
    }

    public static Recording RecordingOf(SampleRate rate, double[] infrared, double[] red)
    {
        var times = TimeAxis.Even(default, rate, infrared.Length);
        var counts = Stillwatch.Signals.Calibration.Counts;
        return new Recording("plain", new RecordingStart.Unknown(), [
            new Channel("IR", ChannelKind.InfraredLight, "", times, CountColumn.Of(counts, infrared.Select(v => (int?)Math.Round(v)))),
            new Channel("RED", ChannelKind.RedLight, "", times, CountColumn.Of(counts, red.Select(v => (int?)Math.Round(v))))],
            SourceAveraging.Unknown, []);
    }

    private static double Bump(double phase, double centre, double halfWidth) =>
        Math.Abs(phase - centre) < halfWidth ? (1 + Math.Cos(Math.PI * (phase - centre) / halfWidth)) / 2 : 0;

    private static double Gauss(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
