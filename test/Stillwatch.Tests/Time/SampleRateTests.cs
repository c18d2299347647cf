using System.Numerics;
using CsCheck;
using Stillwatch.Tests.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Tests.Time;

/// <summary>Exact rates, and even axes at them.</summary>
public sealed class SampleRateTests
{
    [Theory]
    [InlineData(1, 1.0, "1 a second", 1000)]
    [InlineData(125, 1.0, "125 a second", 8)]
    [InlineData(360, 1.0, "360 a second", 3)]
    [InlineData(1, 30.0, "one every 30 s", 30_000)]
    [InlineData(1, 0.0078125, "128 a second", 8)]
    [InlineData(3, 0.5, "6 a second", 167)]
    [InlineData(20_000, 1.0, "20000 a second", 1)]
    public void A_rate_is_samples_in_a_span_of_time(long samples, double seconds, string words, long period)
    {
        var rate = SampleRate.Of(samples, (decimal)seconds);
        Assert.Equal(words, rate.ToString());
        Assert.Equal(new Duration(period), rate.Period);
    }

    [Fact]
    public void Equal_rates_are_equal_however_they_were_stated() => Assert.Equal(SampleRate.Of(250, 1.0m), SampleRate.Of(1, 4));

    [Fact]
    public void Rule_1_360_samples_a_second_do_not_drift_in_a_day()
    {
        var axis = TimeAxis.Even(default, SampleRate.Of(360, 1.0m), 360 * 86_400);
        Assert.Equal(86_400_000 - 3, axis.Last.Milliseconds); // the last sample is 2.78 ms before midnight
        Assert.True(axis.IsEven);
    }

    [Fact]
    public void Every_time_is_the_exact_one_rounded_by_itself() =>
        Gen.Select(Gen.Long[1, 5000], Gen.Long[1, 100_000], Gen.Int[0, 40_000]).Sample((samples, milliseconds, index) =>
        {
            var rate = SampleRate.Of(samples, milliseconds);
            var axis = TimeAxis.Even(new SampleTime(700), rate, index + 1);
            var exactTwice = new BigInteger(index) * milliseconds * 2;
            var difference = exactTwice - (new BigInteger(axis.TimeAt(index).Milliseconds - 700) * samples * 2);
            Assert.True(BigInteger.Abs(difference) <= samples, $"sample {index} at {rate}");
        }, iter: Sampling.Cases(2000));

    [Fact]
    public void Chunks_say_the_same_as_rows()
    {
        var axis = TimeAxis.Even(new SampleTime(-3), SampleRate.Of(360, 1.0m), TimeAxis.ChunkLength + 100);
        var chunk = new long[TimeAxis.ChunkLength];
        int at = 0;
        for (int c = 0; c < axis.ChunkCount; c++)
        {
            int length = axis.CopyChunk(c, chunk);
            Assert.Equal((length, axis.TimeAt(at).Milliseconds, 0L), axis.ChunkShape(c));
            for (int i = 0; i < length; i++) Assert.Equal(axis.TimeAt(at++).Milliseconds, chunk[i]);
        }

        Assert.Equal(axis.Count, at);
    }

    [Theory]
    [InlineData(0, 1)]
    [InlineData(1, 0)]
    [InlineData(long.MaxValue, 1)]
    public void A_rate_that_cannot_be_is_refused(long samples, long milliseconds) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => SampleRate.Of(samples, milliseconds));

    [Theory]
    [InlineData(1000, true)]
    [InlineData(1001, false)]
    public void Rows_for_the_rules_have_a_millisecond_each(long samples, bool fits) =>
        Assert.Equal(fits, SampleRate.Of(samples, 1.0m).IsOnePerMillisecondAtMost);
}
