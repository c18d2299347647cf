using System.Diagnostics;
using System.Numerics.Tensors;
using Stillwatch.Dsp;
using Stillwatch.Oximetry;
using Stillwatch.Oximetry.Beats;
using Stillwatch.Oximetry.Quality;

namespace Stillwatch.Bench;

/// <summary>The steps of a script out of the chain's own parts: band-pass of both channels, beats, each beat's correlation with the usual shape.</summary>
internal sealed class ScriptSteps(int samples, double rateHz)
{
    private readonly double[] pulse = new double[samples], other = new double[samples];
    private readonly double[] shape = new double[PulseShape.Points];
    private readonly double[] blood = new double[Piece];
    private readonly PulseList found = new();
    private readonly PulseBand pulseBand = new(rateHz), redBand = new(rateHz);
    private readonly IBeatDetector detector = BeatDetectors.Create(BeatMethod.Default, rateHz);
    private readonly ShapeTemplate template = new();
    private readonly List<double> correlations = [];

    // What stays in the innermost cache while it is worked on.
    private const int Piece = 1000;

    public static readonly string[] PartNames = ["logarithm and band-pass", "beats", "correlation"];

    public double[] PartSeconds { get; } = new double[3];

    /// <summary>The steepest rise before each peak.</summary>
    public IReadOnlyList<long> BeatMilliseconds => [.. Enumerable.Range(0, found.Count).Select(i => found.Marks[i]).Select(m => (long)Math.Round(1000 * (Upstroke(m) - pulseBand.DelaySamples) / rateHz))];

    public void Run(double[] infrared, double[] red)
    {
        long start = Stopwatch.GetTimestamp();
        pulseBand.Reset();
        redBand.Reset();
        detector.Reset();
        template.Reset();
        found.Clear();
        correlations.Clear();
        Pass(infrared, pulse, pulseBand);
        Pass(red, other, redBand);
        PartSeconds[0] = Lap(ref start);

        detector.Push(pulse, found);
        detector.End(found);
        PartSeconds[1] = Lap(ref start);

        var marks = found.Marks;
        for (int i = 0; i + 1 < marks.Length; i++)
        {
            int from = (int)marks[i].TroughIndex, to = (int)marks[i + 1].TroughIndex;
            if (PulseShape.Resample(pulse.AsSpan(from, to - from + 1), shape)) correlations.Add(template.Take(shape, 1));
        }

        PartSeconds[2] = Lap(ref start);
    }

    private void Pass(double[] light, double[] into, PulseBand band)
    {
        double first = Math.Log(light[0]);
        for (int at = 0; at < light.Length; at += Piece)
        {
            int length = Math.Min(Piece, light.Length - at);
            var piece = blood.AsSpan(0, length);
            TensorPrimitives.Log(light.AsSpan(at, length), piece);
            TensorPrimitives.Subtract(first, piece, piece);
            band.Push(piece, into.AsSpan(at, length));
        }
    }

    private double Upstroke(PulseMark mark)
    {
        long best = mark.TroughIndex + 1;
        for (long i = best; i <= mark.PeakIndex; i++)
        {
            if (pulse[i] - pulse[i - 1] > pulse[best] - pulse[best - 1]) best = i;
        }

        return best - 0.5;
    }

    private static double Lap(ref long start)
    {
        double seconds = Stopwatch.GetElapsedTime(start).TotalSeconds;
        start = Stopwatch.GetTimestamp();
        return seconds;
    }
}
