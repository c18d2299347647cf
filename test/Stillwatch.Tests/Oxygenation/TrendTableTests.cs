using CsCheck;
using Stillwatch.Conditioning;
using Stillwatch.Oxygenation;
using Stillwatch.Quantities;
using Stillwatch.Time;
using Xunit;

namespace Stillwatch.Tests.Oxygenation;

/// <summary>Graph and table are two views of one selection: the rows say what the series says.</summary>
public sealed class TrendTableTests
{
    private static readonly Gen<decimal?[]> Values =
        Gen.Frequency((6, Gen.Int[70, 100].Select(v => (decimal?)v)), (1, Gen.Const((decimal?)null))).Array[2, 200]
            .Select(Gen.Int[1, 20], (values, repeat) => values.SelectMany(v => Enumerable.Repeat(v, repeat)).ToArray());

    private static ConditionedSeries Series(string text) => ConditionedSeries.Of(SeriesText.Source(text, 1), ConditioningSettings.Default);

    private static ConditionedSeries Series(decimal?[] values) => ConditionedSeries.Of(ConditionedSource.Even(values, Duration.FromSeconds(1)), ConditioningSettings.Default);

    private static TrendRequest Whole(ConditionedSeries series, int minutes, RecordingStart? start = null) =>
        new(new TimeSlice(series.Start, series.End), Duration.FromSeconds(60 * minutes), Percent.Of(90), start ?? new RecordingStart.Unknown());

    [Theory]
    [InlineData("96*60 90*60", "96 96 96 0 | 90 90 90 0")] // a value equal to the limit is not below
    [InlineData("96*30 86*30 96*60", "91 86 96 30 | 96 96 96 0")]
    [InlineData("89*120", "89 89 89 60 | 89 89 89 60")]
    [InlineData("96*60 95*30", "96 96 96 0 | 95 95 95 0")] // the last row is half a minute
    public void A_row_a_minute(string series, string rows)
    {
        var table = TrendTable.Of(Series(series), null, Whole(Series(series), 1));
        Assert.Equal(rows, string.Join(" | ", table.Select(r => $"{r.SpO2!.Mean} {r.SpO2.Least} {r.SpO2.Greatest} {r.BelowLimit!.Value.Seconds}")));
    }

    [Fact]
    public void Every_row_agrees_with_a_look_at_every_second() =>
        Gen.Select(Values, Gen.Int[1, 300], Gen.Double[0, 0.7], Gen.Double[0.1, 1]).Sample(t =>
        {
            var (values, interval, share, length) = t;
            var series = Series(values);
            long all = series.Connected.Milliseconds / 1000, first = (long)(all * share), last = Math.Min(all, first + 1 + (long)(all * length));
            var selection = new TimeSlice(SampleTime.FromSeconds(first), SampleTime.FromSeconds(last));
            var rows = TrendTable.Of(series, series, new TrendRequest(selection, Duration.FromSeconds(interval), Percent.Of(90), new RecordingStart.Unknown()));
            Assert.Equal(selection.Start, rows[0].Span.Start);
            Assert.Equal(selection.End, rows[^1].Span.End);
            foreach (var row in rows)
            {
                var seconds = new List<int>();
                for (long s = row.Span.Start.Milliseconds; s < row.Span.End.Milliseconds; s += 1000)
                    foreach (var piece in series.Pieces.Where(p => p.Start.Milliseconds <= s && s < p.End.Milliseconds)) seconds.Add(piece.Micro);
                Assert.Equal(seconds.Count == 0, row.SpO2 is null);
                Assert.Equal(seconds.Count * 1000.0 / row.Span.Length.Milliseconds, row.Coverage, 1e-12);
                Assert.Equal(seconds.Count(v => v < 90_000_000), row.BelowLimit!.Value.Seconds);
                if (row.SpO2 is not { } found) continue;
                Assert.Equal(seconds.Average() / 1e6, found.Mean, 1e-9);
                Assert.Equal(seconds.Min() / 1e6, found.Least);
                Assert.Equal(seconds.Max() / 1e6, found.Greatest);
                Assert.Equal(found, row.PulseRate);
            }

            for (int i = 1; i < rows.Count; i++) Assert.Equal(rows[i - 1].Span.End, rows[i].Span.Start);
        });

    [Fact]
    public void Rows_begin_at_round_clock_times_where_the_clock_is_known()
    {
        var series = Series("96*1200");
        var rows = TrendTable.Of(series, null, Whole(series, 5, new RecordingStart.TimeOfDay(new TimeOnly(22, 58, 0))));
        Assert.Equal([0, 120, 420, 720, 1020], rows.Select(r => r.Span.Start.Seconds));
    }

    [Fact]
    public void A_signal_counts_in_the_row_in_which_it_starts_and_technical_ones_are_never_added_to_it()
    {
        var series = Series("96*180");
        var rows = TrendTable.Of(series, null, Whole(series, 1), [SampleTime.FromSeconds(59), SampleTime.FromSeconds(60), SampleTime.FromSeconds(61)], [SampleTime.FromSeconds(179)]);
        Assert.Equal([1, 2, 0], rows.Select(r => r.PhysiologicalSignals!.Value));
        Assert.Equal([0, 0, 1], rows.Select(r => r.TechnicalSignals!.Value));
        Assert.Null(TrendTable.Of(series, null, Whole(series, 1))[0].PhysiologicalSignals);
    }

    [Fact]
    public void Two_rows_a_century_apart_do_not_make_millions_of_empty_ones()
    {
        var far = new SampleTime(3_155_760_000_000);
        var rows = TrendTable.Of(Series("96*60"), null, new TrendRequest(new TimeSlice(default, far), Duration.FromSeconds(60), null, new RecordingStart.Unknown()), [far - Duration.FromSeconds(1)]);
        Assert.Equal(2, rows.Count(r => r.SpO2 is not null || r.PhysiologicalSignals > 0));
        Assert.InRange(rows.Count, 2, 3);
        Assert.Null(rows[0].BelowLimit);
    }

    [Fact]
    public void A_row_must_have_a_length()
    {
        var error = Assert.Throws<ArgumentException>(() => TrendTable.Of(null, null, new TrendRequest(default, Duration.Zero, null, new RecordingStart.Unknown())));
        Assert.Contains("expected one longer than zero", error.Message, StringComparison.Ordinal);
    }
}
