using CsCheck;
using Stillwatch.Dsp;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Dsp;

/// <summary>Uneven rows onto an even grid, as they come, against a slow twin that looks at all rows for each sample.</summary>
public sealed class EvenResamplerTests
{
    private const double LongestStep = 0.132;

    private static readonly Gen<CurvePoint[]> Rows =
        Gen.Select(Gen.Frequency((8, Gen.Int[20, 50]), (1, Gen.Int[1, 19]), (1, Gen.Int[51, 200]), (1, Gen.Int[201, 3000])), Gen.Frequency((12, Gen.Double[-10, 10]), (1, Gen.Const(double.NaN)), (1, Gen.Const(double.PositiveInfinity))))
            .Array[1, 120].Select(steps =>
            {
                long at = -steps[0].Item1;
                return steps.Select(s => new CurvePoint((at += s.Item1) / 1000.0, s.Item2)).ToArray();
            });

    [Fact]
    public void Each_sample_is_the_one_a_look_at_all_rows_would_give() =>
        Gen.Select(Rows, Gen.Int[10, 60]).Sample((rows, rate) =>
        {
            var found = Run(rows, rate);
            var expected = Twin(rows, rate);
            Assert.Equal(expected.Length, found.Count);
            for (int k = 0; k < expected.Length; k++) Assert.Equal(expected[k], found[k], 1e-6);
        }, iter: Sampling.Cases(1000));

    [Fact]
    public void Read_at_the_end_or_as_soon_as_it_is_certain_a_sample_is_the_same() =>
        Gen.Select(Rows.Select(r => r.TakeWhile(x => x.Seconds < 0.3).ToArray()), Gen.Int[10, 60]).Sample((rows, rate) =>
        {
            var late = new EvenResampler(rate, LongestStep);
            foreach (var row in rows) late.Take(row.Seconds, row.Value);
            late.End();
            var soon = Run(rows, rate);
            Assert.Equal(soon, Enumerable.Range(0, (int)late.Certain).Select(k => late[k]));
        }, iter: Sampling.Cases(300));

    [Theory]
    [InlineData(0.0)]
    [InlineData(7.5)]
    public void Constants_and_straight_lines_come_back(double slope) =>
        Rows.Sample(rows =>
        {
            var line = rows.Select(r => r with { Value = 3 + slope * r.Seconds });
            var samples = Run(line, 30);
            for (int k = 0; k < samples.Count; k++)
            {
                if (!double.IsNaN(samples[k])) Assert.Equal(3 + slope * k / 30.0, samples[k], 1e-9);
            }
        }, iter: Sampling.Cases(300));

    [Fact]
    public void Rows_on_the_grid_come_back_as_they_are()
    {
        double[] values = [1, 5, -2, 8, 8, 3, 0];
        Assert.Equal(values, Run(values.Select((v, i) => new CurvePoint(i * 0.02, v)), 50), (a, b) => Math.Abs(a - b) < 1e-12);
    }

    [Fact]
    public void A_step_that_is_too_long_is_a_gap_and_one_just_as_long_as_may_be_is_not()
    {
        CurvePoint[] rows = [new(0, 1), new(0.1, 1), new(0.2, 1), new(0.4, 1), new(0.5, 1), new(0.6, 1)];
        Assert.DoesNotContain(double.NaN, Run(rows, 20, longest: 0.2000001));
        Assert.Equal([5, 6, 7], Run(rows, 20, longest: 0.19).Select((v, k) => (v, k)).Where(s => double.IsNaN(s.v)).Select(s => s.k));
    }

    [Fact]
    public void A_row_alone_between_gaps_stands_only_for_its_own_place()
    {
        var samples = Run([new(0, 1), new(1, 2), new(2.004, 3), new(3, 4)], 10);
        Assert.Equal([(0, 1), (10, 2), (30, 4)], samples.Select((v, k) => (k, v)).Where(s => !double.IsNaN(s.v)));
    }

    [Fact]
    public void A_gap_of_a_month_costs_neither_time_nor_memory()
    {
        var resampler = new EvenResampler(500, LongestStep);
        resampler.Take(0, 1);
        resampler.Take(0.01, 1);
        resampler.Take(2_600_000, 1);
        resampler.Take(2_600_000.01, 1);
        resampler.End();
        Assert.Equal(1_300_000_006, resampler.Certain);
        Assert.Equal(1, resampler[1_300_000_005]);
        Assert.True(double.IsNaN(resampler[1_299_999_999]));
        Assert.True(resampler.Held < 1000);
    }

    [Fact]
    public void A_sine_at_thirty_uneven_rows_a_second_comes_back_within_two_percent()
    {
        var random = new Stillwatch.Rehearsal.SeededRandom(7);
        double time = 0;
        var rows = Enumerable.Range(0, 3000).Select(_ => time += random.Between(0.025, 0.042)).Select(t => new CurvePoint(t, Math.Sin(2 * Math.PI * 1.5 * t))).ToList();
        var samples = Run(rows, 30);
        double worst = samples.Select((v, k) => Math.Abs(v - Math.Sin(2 * Math.PI * 1.5 * k / 30))).Where(e => !double.IsNaN(e)).Max();
        Assert.InRange(worst, 0, 0.02);
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(0.5)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void Time_going_back_or_standing_still_is_refused(double seconds)
    {
        var resampler = new EvenResampler(30, LongestStep);
        resampler.Take(0.5, double.NaN);
        Assert.Throws<ArgumentException>(() => resampler.Take(seconds, 1));
    }

    [Theory]
    [InlineData(0, 1)]
    [InlineData(double.NaN, 1)]
    [InlineData(30, 0)]
    [InlineData(30, double.NaN)]
    [InlineData(30, 1e9)]
    public void A_grid_or_a_step_that_makes_no_sense_is_refused(double rateHz, double longest) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new EvenResampler(rateHz, longest));

    private static List<double> Run(IEnumerable<CurvePoint> rows, double rate, double longest = LongestStep)
    {
        var resampler = new EvenResampler(rate, longest);
        var samples = new List<double>();
        foreach (var row in rows)
        {
            resampler.Take(row.Seconds, row.Value);
            while (samples.Count < resampler.Certain) samples.Add(resampler[samples.Count]);
        }

        resampler.End();
        while (samples.Count < resampler.Certain) samples.Add(resampler[samples.Count]);
        return samples;
    }

    private static double[] Twin(CurvePoint[] rows, double rate)
    {
        var numbers = rows.Where(r => double.IsFinite(r.Value)).ToList();
        bool Joined(int i) => i > 0 && i < numbers.Count && numbers[i].Seconds - numbers[i - 1].Seconds <= LongestStep; // i belongs to the stretch of i - 1
        int last = (int)Math.Floor((rows[^1].Seconds + 1e-9) * rate);
        return [.. Enumerable.Range(0, last + 1).Select(k =>
        {
            double at = k / rate;
            int exact = numbers.FindIndex(n => Math.Abs(n.Seconds - at) <= 1e-9);
            if (exact >= 0) return numbers[exact].Value;
            int right = numbers.FindIndex(n => n.Seconds > at);
            if (right <= 0 || !Joined(right)) return double.NaN;
            int left = right - 1;
            bool before = Joined(left), after = Joined(right + 1);
            return (before, after) switch
            {
                (true, true) => HermiteCurve.Between(numbers[left - 1], numbers[left], numbers[right], numbers[right + 1], at),
                (false, true) => HermiteCurve.AtStart(numbers[left], numbers[right], numbers[right + 1], at),
                (true, false) => HermiteCurve.AtEnd(numbers[left - 1], numbers[left], numbers[right], at),
                _ => HermiteCurve.Line(numbers[left], numbers[right], at),
            };
        })];
    }
}
