using CsCheck;
using Stillwatch.Dsp;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Dsp;

/// <summary>The running sum must be the mean that it stands for, however long it runs.</summary>
public class MovingMeanTests
{
    [Fact]
    public void It_is_the_direct_sum_for_any_length_whole_or_not() =>
        Gen.Select(Gen.Double[1, 60], Gen.Double[-1000, 1000].Array[1, 300]).Sample((length, samples) =>
        {
            var mean = new MovingMean(length);
            var output = new double[samples.Length];
            mean.Push(samples, output);
            for (int i = 0; i < samples.Length; i++) Assert.Equal(Direct(samples, i, length), output[i], 1e-9);
        }, iter: Sampling.Cases(200));

    [Fact]
    public void Any_cutting_gives_the_same_bits() =>
        Gen.Select(Gen.Double[1, 200], Gen.Double[-1, 1].Array[3000], Gen.Int[1, 700].Array[1, 8]).Sample((length, samples, cuts) =>
        {
            var (whole, parts) = (new double[samples.Length], new double[samples.Length]);
            new MovingMean(length).Push(samples, whole);
            var mean = new MovingMean(length);
            for (int at = 0, n = 0; at < samples.Length; n++)
            {
                int count = Math.Min(cuts[n % cuts.Length], samples.Length - at);
                mean.Push(samples.AsSpan(at, count), parts.AsSpan(at, count));
                at += count;
            }

            Assert.Equal(whole, parts);
        }, iter: Sampling.Cases(50));

    [Theory]
    [InlineData(10)]
    [InlineData(12.5)]
    [InlineData(125)]
    public void A_constant_stays_what_it_is(double length)
    {
        var output = new double[2000];
        new MovingMean(length).Push(Enumerable.Repeat(7.25, 2000).ToArray(), output);
        Assert.All(output.Skip((int)length + 2), v => Assert.Equal(7.25, v, 1e-12));
    }

    [Fact]
    public void A_monstrous_sample_is_forgotten()
    {
        var samples = Enumerable.Range(0, 2000).Select(i => Math.Sin(i * 0.1)).ToArray();
        var (clean, spoilt) = (new double[2000], new double[2000]);
        new MovingMean(20).Push(samples, clean);
        samples[100] = 1e60;
        new MovingMean(20).Push(samples, spoilt);
        Assert.Equal(clean[(MovingMean.Anchor + 22)..], spoilt[(MovingMean.Anchor + 22)..]);
    }

    [Fact]
    public void Rounding_does_not_add_up_over_a_day()
    {
        var mean = new MovingMean(25);
        var random = new Random(5);
        var (block, output) = (new double[1000], new double[1000]);
        for (int i = 0; i < 10_800; i++) // 24 h at 125 a second
        {
            for (int j = 0; j < block.Length; j++) block[j] = 1e6 * random.NextDouble();
            mean.Push(block, output);
        }

        Assert.Equal(block[^26..^1].Average(), output[^1], 1e-8 * output[^1]);
    }

    [Theory]
    [InlineData(0.5)]
    [InlineData(double.NaN)]
    [InlineData(1e9)]
    public void A_length_that_is_none_is_refused(double length) => Assert.Throws<ArgumentOutOfRangeException>(() => new MovingMean(length));

    /// <summary>Weight 1 for the greatest odd number of samples within the length, what is left shared by the two beside them; zeros before the first.</summary>
    private static double Direct(double[] samples, int at, double length)
    {
        int core = (int)length % 2 == 1 ? (int)length : (int)length - 1, half = (core - 1) / 2, middle = at - half - 1;
        double sum = (length - core) / 2 * (Sample(middle - half - 1) + Sample(middle + half + 1));
        for (int i = middle - half; i <= middle + half; i++) sum += Sample(i);
        return sum / length;

        double Sample(int index) => index < 0 ? 0 : samples[index];
    }
}
