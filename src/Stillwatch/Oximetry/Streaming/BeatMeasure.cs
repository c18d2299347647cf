using System.Numerics.Tensors;
using Stillwatch.Dsp;
using Stillwatch.Oximetry.Beats;

namespace Stillwatch.Oximetry.Streaming;

/// <summary>Measures a beat once its span, trough to next trough, is known.</summary>
internal sealed class BeatMeasure(
    StreamInput input, SecondGrid grid, BandedSegment pulseBand, BandedSegment? redBand, SlidingSamples pulseRaw, SlidingSamples redRaw)
{
    private long firstIndex;

    public void Reset(long segmentFirstIndex) => firstIndex = segmentFirstIndex;

    /// <summary>False where there is no upstroke worth the name.</summary>
    public bool TryMeasure(PulseMark mark, long end, out Beat beat)
    {
        beat = default;
        int length = (int)(end - mark.TroughIndex), peak = (int)(mark.PeakIndex - mark.TroughIndex);
        if (peak < 1 || peak >= length) return false;
        var span = pulseBand.Slice(mark.TroughIndex, length);
        double amplitude = span[peak] - span[0];
        if (!(amplitude > 0)) return false;
        double upstroke = Upstroke(span[..(peak + 1)]);
        double baseline = TensorPrimitives.Sum(pulseRaw.Slice(mark.TroughIndex, length)) / length;
        double at = firstIndex + mark.TroughIndex;
        beat = new Beat(
            grid.SecondsAt(at + upstroke), grid.SecondsAt(at), grid.SecondsAt(at + peak), amplitude, baseline, Ratio(mark.TroughIndex, span), 1);
        return true;
    }

    /// <summary>Where the rise is steepest, in samples from the trough, by the parabola through the three steepest steps.</summary>
    private static double Upstroke(ReadOnlySpan<double> rise)
    {
        int best = 1;
        for (int i = 2; i < rise.Length; i++)
        {
            if (rise[i] - rise[i - 1] > rise[best] - rise[best - 1]) best = i;
        }

        double offset = 0;
        if (best > 1 && best < rise.Length - 1)
        {
            double before = rise[best - 1] - rise[best - 2], here = rise[best] - rise[best - 1], after = rise[best + 1] - rise[best];
            double bend = before - 2 * here + after;
            if (bend < 0) offset = Math.Clamp((before - after) / (2 * bend), -0.5, 0.5);
        }

        return best - 0.5 + offset;
    }

    private double Ratio(long trough, ReadOnlySpan<double> infrared)
    {
        if (redBand is null || !input.IsLight) return double.NaN;
        if (double.IsNaN(TensorPrimitives.Sum(redRaw.Slice(trough, infrared.Length)))) return double.NaN;
        var red = redBand.Slice(trough, infrared.Length);
        int n = infrared.Length;
        double meanInfrared = TensorPrimitives.Sum(infrared) / n, meanRed = TensorPrimitives.Sum(red) / n;
        double power = TensorPrimitives.SumOfSquares(infrared) - n * meanInfrared * meanInfrared;
        double shared = TensorPrimitives.Dot(infrared, red) - n * meanInfrared * meanRed;
        return power > 0 ? shared / power : double.NaN;
    }
}
