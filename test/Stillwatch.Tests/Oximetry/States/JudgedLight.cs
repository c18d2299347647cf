using Stillwatch.Dsp;
using Stillwatch.Oximetry;
using Stillwatch.Oximetry.Beats;
using Stillwatch.Oximetry.States;
using Stillwatch.Rehearsal.Sensor;

namespace Stillwatch.Tests.Oximetry.States;

/// <summary>Rehearsed light through band-pass, beat detector and judge, all at once and plainly, beside its truth.</summary>
internal sealed class JudgedLight
{
    private const int AheadSeconds = 8;

    public required IReadOnlyList<SecondJudgement> Seconds { get; init; }

    public required IReadOnlyList<BeatJudgement> Beats { get; init; }

    /// <summary>Truth in the middle of each second.</summary>
    public required IReadOnlyList<double> SaturationPercent { get; init; }

    /// <param name="light">Red and infrared.</param>
    /// <param name="size">Both lights are made this much brighter first.</param>
    /// <param name="allocated">Bytes that the judge allocated after its first ten seconds.</param>
    public static JudgedLight Of(RehearsedLight light, double size, out long allocated)
    {
        int per = (int)Math.Round(light.Rate.Hertz);
        double[] infrared = [.. light.Infrared().Select(v => size * v)], red = [.. light.Red().Select(v => size * v)];
        double[] pulse = Band(infrared, per), redPulse = Band(red, per);
        var detector = BeatDetectors.Create(BeatMethod.Default, per);
        var found = new PulseList();
        detector.Push(pulse, found);
        detector.End(found);
        var judge = new LightJudge(per, isLight: true, hasRed: true, averagingSeconds: 8);
        var (seconds, beats) = (new List<SecondJudgement>(10_000), new List<BeatJudgement>(10_000));
        int count = infrared.Length / per, mark = 0;
        long before = 0;
        for (int k = 0; k < count + AheadSeconds; k++)
        {
            if (k == 10) before = GC.GetAllocatedBytesForCurrentThread();
            if (k < count) judge.TakeSecond(k, infrared.AsSpan(k * per, per), red.AsSpan(k * per, per), pulse.AsSpan(k * per, per), redPulse.AsSpan(k * per, per));
            for (; mark + 1 < found.Count && found.Marks[mark + 1].TroughIndex < (k + 1) * per; mark++)
            {
                int from = (int)found.Marks[mark].TroughIndex, peak = (int)found.Marks[mark].PeakIndex - from;
                int length = Math.Min((int)found.Marks[mark + 1].TroughIndex - from, (int)(2.5 * per)) + 1;
                if (peak < 1 || peak >= length - 1) continue;
                int steepest = 1;
                for (int i = 2; i <= peak; i++)
                    if (pulse[from + i] - pulse[from + i - 1] > pulse[from + steepest] - pulse[from + steepest - 1]) steepest = i;
                beats.Add(judge.TakeBeat(new BeatCut
                {
                    UpstrokeSeconds = (from + steepest) / (double)per,
                    PeakIndex = peak,
                    Pulse = pulse.AsSpan(from, length),
                    Red = redPulse.AsSpan(from, length),
                    RawPulse = infrared.AsSpan(from, length),
                    RawRed = red.AsSpan(from, length),
                }));
            }

            int second = k - AheadSeconds;
            if (second >= 0) seconds.Add(judge.JudgeSecond(second, second - 3.5, second + 4.5));
        }

        allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        return new JudgedLight
        {
            Seconds = seconds,
            Beats = beats,
            SaturationPercent = [.. Enumerable.Range(0, count).Select(k => light.SaturationPercent[k * per + per / 2])],
        };
    }

    public static JudgedLight Of(RehearsedLight light) => Of(light, 1, out _);

    private static double[] Band(double[] raw, double rateHz)
    {
        var band = new PulseBand(rateHz);
        int delay = band.DelaySamples;
        var padded = new double[raw.Length + 2 * delay];
        for (int i = 0; i < padded.Length; i++)
        {
            int at = Math.Abs(i - delay);
            if (at >= raw.Length) at = 2 * raw.Length - 2 - at;
            padded[i] = Math.Log(raw[0]) - Math.Log(Math.Max(raw[Math.Clamp(at, 0, raw.Length - 1)], 0.5));
        }

        var passed = new double[padded.Length];
        band.Push(padded, passed);
        return passed[(2 * delay)..];
    }
}
