using Stillwatch.Rehearsal.Sensor;

namespace Stillwatch.Tests.Rehearsal.Sensor;

/// <summary>What light is worth, worked out in the plainest way, for these tests alone: it knows no filter and trusts that there is no noise.</summary>
internal static class PlainTwins
{
    /// <summary>A pulse and nothing else.</summary>
    public static readonly OpticalSensorSettings Ideal = OpticalSensorSettings.Ideal;

    /// <summary>No pulse, no breath: what is left is what happens to the sensor.</summary>
    public static readonly SensorTrial NoPulse = new() { PerfusionPercent = 0, BreathEffort = 0 };

    /// <summary>Red over infrared, each ln(most / least light) from one true upstroke to the next; one for each whole beat.</summary>
    public static double[] Ratios(RehearsedLight light, double afterSeconds = 0)
    {
        var (red, infrared) = (light.Red(), light.Infrared());
        return [.. Beats(light, afterSeconds).Select(b => Depth(red[b]) / Depth(infrared[b]))];
    }

    /// <summary>(most − least) / mean of the infrared light × 100, beat by beat.</summary>
    public static double[] Perfusion(RehearsedLight light)
    {
        var infrared = light.Infrared();
        return [.. Beats(light, 0).Select(b => 100 * (infrared[b].Max() - infrared[b].Min()) / infrared[b].Average())];
    }

    /// <summary>Seconds at which −ln of infrared light rises fastest between one true trough and the next, to a sample.</summary>
    public static double[] SteepestRises(RehearsedLight light, double[] infrared)
    {
        var found = new List<double>();
        for (int beat = 1; beat + 1 < light.BeatSeconds.Count; beat++)
        {
            double before = (light.BeatSeconds[beat - 1] + light.BeatSeconds[beat]) / 2, after = (light.BeatSeconds[beat] + light.BeatSeconds[beat + 1]) / 2;
            int steepest = -1;
            for (int i = (int)Math.Ceiling(before * light.Rate.Hertz); i + 1 < after * light.Rate.Hertz; i++)
            {
                if (steepest < 0 || Fall(i) > Fall(steepest)) steepest = i;
            }

            found.Add((steepest + 0.5) / light.Rate.Hertz);
        }

        return [.. found];

        double Fall(int index) => Math.Log(infrared[index] / infrared[index + 1]);
    }

    public static double Mean(IEnumerable<double> values) => values.Average();

    /// <summary>Standard deviation of a whole population.</summary>
    public static double Deviation(IReadOnlyCollection<double> values)
    {
        double mean = values.Average();
        return Math.Sqrt(values.Average(v => (v - mean) * (v - mean)));
    }

    /// <summary>Slope of y on x by least squares.</summary>
    public static double Slope(double[] x, double[] y)
    {
        double meanX = x.Average(), meanY = y.Average();
        return x.Zip(y, (a, b) => (a - meanX) * (b - meanY)).Sum() / x.Sum(a => (a - meanX) * (a - meanX));
    }

    public static double Correlation(double[] x, double[] y) => Slope(x, y) * Deviation(x) / Deviation(y);

    /// <summary>Half the height of the wave of this frequency in the values, by Fourier's sum.</summary>
    public static double AmplitudeAt(double hertz, double[] values, double samplesPerSecond)
    {
        double mean = values.Average(), sine = 0, cosine = 0;
        for (int i = 0; i < values.Length; i++)
        {
            double angle = 2 * Math.PI * hertz * i / samplesPerSecond;
            sine += (values[i] - mean) * Math.Sin(angle);
            cosine += (values[i] - mean) * Math.Cos(angle);
        }

        return 2 * Math.Sqrt(sine * sine + cosine * cosine) / values.Length;
    }

    public static double[] Logs(double[] values) => [.. values.Select(v => Math.Log(v))];

    /// <summary>Rows of a text table without its first line; cells between bars.</summary>
    public static IEnumerable<string[]> Rows(string table) => table.Split('\n').Skip(1).Select(line => line.Split('|', StringSplitOptions.TrimEntries));

    private static double Depth(double[] light) => Math.Log(light.Max() / light.Min());

    private static IEnumerable<Range> Beats(RehearsedLight light, double afterSeconds)
    {
        for (int beat = 0; beat + 1 < light.BeatSeconds.Count; beat++)
        {
            if (light.BeatSeconds[beat] < afterSeconds) continue;
            yield return (int)Math.Ceiling(light.BeatSeconds[beat] * light.Rate.Hertz)..(int)Math.Ceiling(light.BeatSeconds[beat + 1] * light.Rate.Hertz);
        }
    }
}
