using CsCheck;
using Stillwatch.Dsp;
using Stillwatch.Oximetry.Streaming;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Oximetry.Stream;

/// <summary>A segment's band-pass against sums written out over the segment and its mirror images.</summary>
public class BandedSegmentTests
{
    [Fact]
    public void It_is_the_direct_sums_over_the_mirrored_segment_however_it_is_cut() =>
        Gen.Select(Gen.Int[0, 2], Gen.Double[-1, 1].Array[1, 400], Gen.Int[1, 120].Array[1, 5]).Sample((rate, samples, cuts) =>
        {
            double rateHz = new[] { 25, 31.25, 50 }[rate];
            var passed = new SlidingSamples(1000);
            var segment = new BandedSegment(rateHz, passed);
            for (int round = 0; round < 2; round++) // the second round shows that nothing is left of the first
            {
                long start = passed.EndIndex;
                segment.Begin(start);
                for (int at = 0, n = 0; at < samples.Length; n++)
                {
                    int count = Math.Min(cuts[n % cuts.Length], samples.Length - at);
                    segment.Append(samples.AsSpan(at, count));
                    at += count;
                }

                segment.End();
                var expected = Direct(samples, rateHz, segment.DelaySamples);
                Assert.Equal(expected.Length, passed.EndIndex - start);
                var actual = passed.Slice(start, expected.Length);
                for (int i = 0; i < expected.Length; i++) Assert.Equal(expected[i], actual[i], 1e-12);
            }
        }, iter: Sampling.Cases(60));

    private static double[] Direct(double[] samples, double rateHz, int looks)
    {
        if (samples.Length <= looks) return [];
        double[] smooth = Kernel(0.1 * rateHz), slow = Kernel(rateHz);
        smooth = Convolve(smooth, smooth);
        double[] both = Convolve(smooth, Convolve(slow, slow)); // as long as the band looks to both sides
        int middle = both.Length / 2, edge = middle - smooth.Length / 2;
        for (int i = 0; i < both.Length; i++) both[i] = (i >= edge && i < edge + smooth.Length ? smooth[i - edge] : 0) - both[i];
        return [.. samples.Select((_, i) => both.Select((weight, j) => weight * Mirrored(i + j - middle)).Sum())];

        double Mirrored(int index) => index < 0 ? samples[-index] : index >= samples.Length ? samples[2 * (samples.Length - 1) - index] : samples[index];
    }

    private static double[] Kernel(double length)
    {
        int core = (int)length % 2 == 1 ? (int)length : (int)length - 1;
        return [(length - core) / 2 / length, .. Enumerable.Repeat(1 / length, core), (length - core) / 2 / length];
    }

    private static double[] Convolve(double[] a, double[] b)
    {
        var result = new double[a.Length + b.Length - 1];
        for (int i = 0; i < a.Length; i++)
        {
            for (int j = 0; j < b.Length; j++) result[i + j] += a[i] * b[j];
        }

        return result;
    }
}
