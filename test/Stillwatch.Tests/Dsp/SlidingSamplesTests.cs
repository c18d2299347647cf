using CsCheck;
using Stillwatch.Dsp;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Dsp;

public class SlidingSamplesTests
{
    [Fact]
    public void The_latest_samples_are_always_there_under_their_index() =>
        Gen.Select(Gen.Int[1, 50], Gen.Int[0, 120].Array[1, 30]).Sample((kept, blocks) =>
        {
            var sliding = new SlidingSamples(kept);
            var all = new List<double>();
            foreach (int block in blocks)
            {
                if (block % 7 == 3)
                {
                    all.AddRange(Enumerable.Repeat(double.NaN, block));
                    sliding.SkipTo(all.Count);
                }
                else
                {
                    var samples = Enumerable.Range(all.Count, block).Select(i => (double)i).ToArray();
                    all.AddRange(samples);
                    sliding.Append(samples);
                }

                Assert.Equal(all.Count, sliding.EndIndex);
                int readable = Math.Min(kept, all.Count);
                Assert.Equal(all[^readable..], sliding.Slice(all.Count - readable, readable).ToArray());
            }
        }, iter: Sampling.Cases(300));

    [Fact]
    public void A_sample_that_has_gone_is_refused_not_made_up()
    {
        var sliding = new SlidingSamples(4);
        for (int i = 0; i < 5; i++) sliding.Append([1, 2, 3]);
        Assert.Throws<ArgumentOutOfRangeException>(() => sliding.Slice(0, 2).Length);
    }
}
