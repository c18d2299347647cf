using MathNet.Numerics;
using MathNet.Numerics.Statistics;
using Stillwatch.Dsp;
using Stillwatch.Oximetry;

namespace Stillwatch.Tests.Oximetry.Breathing;

/// <summary>The slow obvious twin: the same rules on whole lists, a transform by its definition, nothing kept from window to window.</summary>
internal static class NaiveBreathing
{
    public static BreathingReading Read(IReadOnlyList<Beat> all, double start, double length)
    {
        var beats = all.Where(b => b.UpstrokeSeconds >= start - 4 && b.UpstrokeSeconds < start + length + 4).ToList();
        var intervals = beats.Zip(beats.Skip(1), (a, b) => b.UpstrokeSeconds - a.UpstrokeSeconds).ToArray();
        if (beats.Count < 3) return new(start, length, double.NaN, double.NaN, double.NaN, double.NaN);
        double[] usual = Around(intervals, 5);
        bool Short(int i) => i >= 0 && i < intervals.Length && intervals[i] < 0.75 * usual[i];
        bool Poor(int i) => beats[i].Quality < 0.3;
        var whole = Enumerable.Range(0, beats.Count).Where(i => !Poor(i) && !Short(i - 1) && !Short(i - 2)).Select(i => beats[i]).ToList();
        var between = Enumerable.Range(0, intervals.Length)
            .Where(i => !Poor(i) && !Poor(i + 1) && intervals[i] > 0.75 * usual[i] && intervals[i] < 1.3 * usual[i])
            .Select(i => new CurvePoint((beats[i].UpstrokeSeconds + beats[i + 1].UpstrokeSeconds) / 2, intervals[i]));
        int to = (int)Math.Floor(Math.Min(70, 0.475 * 60 / intervals.Median()) / 60 * 128);
        const int From = 9, Near = 5; // 4 a minute, and 2.5 a minute, of bins 1/128 Hz apart
        if (to - From < 3) return new(start, length, double.NaN, double.NaN, double.NaN, double.NaN);
        int bins = to - From + 3;
        var parts = new (IEnumerable<CurvePoint> Points, int Noise)[]
        {
            (whole.Select(b => new CurvePoint(b.UpstrokeSeconds, b.Baseline)), 2),
            (whole.Select(b => new CurvePoint(b.UpstrokeSeconds, b.Amplitude)), 2),
            (between, 4),
        };
        double[] Noise(int power) => [.. Enumerable.Range(From - 1, bins).Select(k => Math.Pow(k, power))];
        double Inside(double[] values) => values[1..^1].Sum();
        var sum = new double[bins];
        var noiseSum = new double[bins];
        var rates = new double[3];
        for (int m = 0; m < 3; m++)
        {
            rates[m] = double.NaN;
            if (Series(parts[m].Points, start, length) is not { } series) continue;
            double[] power = Power(series, From - 1, bins), noise = Noise(parts[m].Noise);
            if (Peak(power) is not { } peak) continue;
            rates[m] = Rate(power, peak);
            double share = Share(power, peak);
            for (int k = 0; k < bins; k++)
            {
                sum[k] += share * share * power[k] / Inside(power);
                noiseSum[k] += share * share * noise[k] / Inside(noise);
            }
        }

        double fused = double.NaN;
        if (Peak(sum) is { } top)
        {
            double share = Share(sum, top), chance = Share(noiseSum, top);
            if ((share - chance) / (1 - chance) >= 0.38) fused = Rate(sum, top);
        }

        return new(start, length, fused, rates[0], rates[1], rates[2]);

        double Share(double[] power, int peak) => Enumerable.Range(1, bins - 2).Where(k => Math.Abs(k - peak) <= Near).Sum(k => power[k]) / Inside(power);

        double Rate(double[] power, int peak)
        {
            double[] plain = [.. power.Select((p, k) => p / Math.Pow(k + From - 1, 2))];
            int lowest = Math.Max(1, peak - Near);
            while (peak > lowest && plain[peak - 1] > plain[peak]) peak--;
            double top = peak;
            if (plain[peak] >= plain[peak - 1] && plain[peak] >= plain[peak + 1] && plain[peak - 1] + plain[peak + 1] < 2 * plain[peak])
            {
                // The vertex of the parabola through three points.
                double[] c = Fit.Polynomial([-1, 0, 1], [plain[peak - 1], plain[peak], plain[peak + 1]], 2);
                top = peak - c[1] / (2 * c[2]);
            }

            return (top + From - 1) * 60 / 128;
        }
    }

    private static int? Peak(double[] power)
    {
        var peaks = Enumerable.Range(1, power.Length - 2).Where(k => power[k] > power[k - 1] && power[k] >= power[k + 1]).ToList();
        return peaks.Count == 0 ? null : peaks.MaxBy(k => power[k]);
    }

    private static double[] Around(IReadOnlyList<double> values, int reach) =>
        [.. values.Select((_, i) => values.Where((_, k) => Math.Abs(k - i) <= reach).Median())];

    private static double[]? Series(IEnumerable<CurvePoint> all, double start, double length)
    {
        var points = all.Where(p => double.IsFinite(p.Value)).ToList();
        if (points.Count == 0) return null;
        double[] apart = [.. points.Zip(Around([.. points.Select(p => p.Value)], 4), (p, m) => Math.Abs(p.Value - m))];
        points = [.. points.Where((_, i) => apart[i] <= 4 * 1.4826 * apart.Median())];
        if (points.Count < 8) return null;
        double[] times = [.. Enumerable.Range(0, (int)(length * 4)).Select(i => start + i / 4.0)];
        int known = 0;
        var series = times.Select(at =>
        {
            int right = points.FindIndex(p => p.Seconds > at);
            if (right is 0 or -1)
            {
                var end = right == 0 ? points[0] : points[^1];
                if (Math.Abs(at - end.Seconds) <= 3) known++;
                return end.Value;
            }

            var (a, b) = (points[right - 1], points[right]);
            if (b.Seconds - a.Seconds > 3) return HermiteCurve.Line(a, b, at);
            known++;
            return right == 1 ? HermiteCurve.AtStart(a, b, points[2], at)
                : right == points.Count - 1 ? HermiteCurve.AtEnd(points[right - 2], a, b, at)
                : HermiteCurve.Between(points[right - 2], a, b, points[right + 1], at);
        }).ToArray();
        if (known < 0.75 * series.Length) return null;
        var (intercept, slope) = Fit.Line([.. Enumerable.Range(0, series.Length).Select(i => (double)i)], series);
        return [.. series.Select((v, i) => v - intercept - slope * i)];
    }

    /// <summary>Power times the frequency squared, bins of 4 / 512 Hz, by the transform's definition.</summary>
    private static double[] Power(double[] series, int from, int count)
    {
        double[] window = Window.Hamming(series.Length);
        return [.. Enumerable.Range(from, count).Select(k =>
        {
            double real = 0, imaginary = 0;
            for (int i = 0; i < series.Length; i++)
            {
                real += series[i] * window[i] * Math.Cos(2 * Math.PI * k * i / 512);
                imaginary += series[i] * window[i] * Math.Sin(2 * Math.PI * k * i / 512);
            }

            return (real * real + imaginary * imaginary) * k * k;
        })];
    }
}
