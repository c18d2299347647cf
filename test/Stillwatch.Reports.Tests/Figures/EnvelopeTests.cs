using CsCheck;
using Stillwatch.Conditioning;
using Stillwatch.Reports.Plots;
using Stillwatch.Reports.Tests.Samples;
using Stillwatch.Time;

namespace Stillwatch.Reports.Tests.Figures;

/// <summary>Thinning a long series must not lose a dip, wherever it falls.</summary>
public sealed class EnvelopeTests
{
    private static readonly Gen<ConditionedSeries> Series =
        Gen.Frequency((6, Gen.Int[60, 100].Select(v => (decimal?)v)), (1, Gen.Const((decimal?)null))).Array[1, 400]
            .Select(Gen.Int[1, 12], (values, repeat) => HandMade.Series(values.SelectMany(v => Enumerable.Repeat(v, repeat))));

    [Fact]
    public void Every_column_holds_the_lowest_and_highest_value_that_a_look_at_every_piece_finds() =>
        Gen.Select(Series, Gen.Int[1, 300]).Sample(t =>
        {
            var (series, columns) = t;
            var envelope = Envelope.Of(series, series.Start, series.End, columns);
            double width = series.Connected.Milliseconds / (double)columns;
            for (int c = 0; c < columns; c++)
            {
                double from = c * width, to = (c + 1) * width;
                int[] within = [.. series.Pieces.Where(p => (p.Start - series.Start).Milliseconds < to - 1e-6 && (p.End - series.Start).Milliseconds > from + 1e-6).Select(p => p.Micro)];
                Assert.True(within.Length == 0 || envelope[c].HasValue, $"column {c} of {columns} lost its values");
                if (within.Length == 0) continue;
                Assert.True(envelope[c].MinMicro <= within.Min(), $"column {c} of {columns}: lowest {envelope[c].MinMicro}, found {within.Min()}");
                Assert.True(envelope[c].MaxMicro >= within.Max());
                Assert.InRange(envelope[c].MeanMicro, envelope[c].MinMicro - 1e-3, envelope[c].MaxMicro + 1e-3);
            }
        });

    [Fact]
    public void The_lowest_value_of_all_survives_any_thinning() =>
        Gen.Select(Series, Gen.Int[1, 300]).Where(t => t.Item1.Pieces.Count > 0).Sample(t =>
        {
            var (series, columns) = t;
            var envelope = Envelope.Of(series, series.Start, series.End, columns);
            Assert.Equal(series.Pieces.Min(p => p.Micro), envelope.Where(c => c.HasValue).Min(c => c.MinMicro));
            Assert.Equal(series.Pieces.Max(p => p.Micro), envelope.Where(c => c.HasValue).Max(c => c.MaxMicro));
        });

    [Fact]
    public void Gaps_and_values_fill_the_time_between_them() => Series.Sample(series =>
    {
        var gaps = Envelope.Gaps(series, series.Start, series.End, new Duration(1));
        Assert.Equal(series.Connected, gaps.Aggregate(series.Valid, (sum, g) => sum + g.Length));
    });

    [Fact]
    public void A_series_without_a_value_is_one_gap()
    {
        var series = HandMade.Series(Enumerable.Repeat((decimal?)null, 60));
        Assert.Equal([new TimeSlice(default, SampleTime.FromSeconds(60))], Envelope.Gaps(series, series.Start, series.End, new Duration(1000)));
        Assert.All(Envelope.Of(series, series.Start, series.End, 20), c => Assert.False(c.HasValue));
    }
}
