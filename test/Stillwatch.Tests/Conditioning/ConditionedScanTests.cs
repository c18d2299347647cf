using CsCheck;
using Stillwatch.Conditioning;
using Stillwatch.Signals;
using Stillwatch.Tests.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Tests.Conditioning;

/// <summary>The scan passes stretches of one number in one stride; it must say the same as going row by row.</summary>
public sealed class ConditionedScanTests
{
    private static readonly Gen<List<decimal?>> Any = Nights.Values;

    [Fact]
    public void The_stride_says_the_same_as_row_by_row() =>
        Gen.Select(Any, Nights.Period, Nights.Conditioning, Gen.Bool).Sample((values, period, settings, isPulse) =>
        {
            var quantity = isPulse ? ConditionedQuantity.PulseRate : ConditionedQuantity.SpO2;
            var source = ConditionedSource.Even(values, period, quantity);
            Assert.Equal(Naive(source, settings), Scan(source, settings));
        }, iter: Sampling.Cases(1500));

    [Fact]
    public void The_stride_says_the_same_across_chunks_of_rows() =>
        Gen.Select(Any, Gen.Int[0, 40], Nights.Conditioning).Sample((values, before, settings) =>
        {
            // The drawn stretch lies across the seam between two chunks of rows.
            var long1 = Enumerable.Repeat((decimal?)92, TimeAxis.ChunkLength - before).Concat(values).Append(92).ToList();
            var source = ConditionedSource.Even(long1, new Duration(1000));
            Assert.Equal(Naive(source, settings), Scan(source, settings));
        }, iter: Sampling.Cases(60));

    [Fact]
    public void A_validity_channel_that_finds_nothing_wrong_changes_nothing() =>
        Gen.Select(Any, Nights.Conditioning).Sample((values, settings) =>
        {
            var source = ConditionedSource.Even(values, new Duration(1000));
            var valid = new Channel("valid", ChannelKind.SourceValid, "", source.Channel.Times, ValueColumn.Of(values.Select(_ => (decimal?)1)));
            Assert.Equal(Scan(source, settings), Scan(source with { SourceValid = valid }, settings));
        }, iter: Sampling.Cases(300));

    [Fact]
    public void Rows_that_the_source_or_the_quality_rejects_are_as_if_missing() =>
        Gen.Select(Any, Gen.Int[0, 5].Array[50], Nights.Conditioning).Sample((values, marks, settings) =>
        {
            var checkedSettings = settings with { Validity = ValidityRule.Standard };
            int Mark(int i) => marks[i / 3 % marks.Length];
            var source = ConditionedSource.Even(values, new Duration(1000));
            var times = source.Channel.Times;
            var judged = source with
            {
                SourceValid = new Channel("valid", ChannelKind.SourceValid, "", times, ValueColumn.Of(values.Select((_, i) => (decimal?)(Mark(i) == 0 ? 0 : 1)))),
                Quality = new Channel("quality", ChannelKind.SignalQuality, "", times, ValueColumn.Of(values.Select((_, i) => Mark(i) == 1 ? 49.9m : Mark(i) == 2 ? (decimal?)null : 50))),
                QualityThresholdMicro = 50_000_000,
            };
            var blanked = ConditionedSource.Even(values.Select((v, i) => Mark(i) <= 1 ? null : v), new Duration(1000));
            Assert.Equal(Scan(blanked, checkedSettings), Scan(judged, checkedSettings));
        }, iter: Sampling.Cases(300));

    [Fact]
    public void An_uneven_axis_says_the_same_as_an_even_one_with_missing_rows() =>
        Gen.Select(Any, Nights.Conditioning).Sample((values, settings) =>
        {
            var even = ConditionedSource.Even(values, new Duration(1000));
            var times = new TimeAxis.Builder();
            var present = new List<decimal?>();
            for (int i = 0; i < values.Count; i++)
            {
                // The last row stays, or the recording would end earlier (R1).
                if (values[i] is null && i < values.Count - 1) continue;
                times.Add(i * 1000L);
                present.Add(values[i]);
            }

            var uneven = even with { Channel = new Channel("SpO2", ChannelKind.SpO2, "%", times.Build(new Duration(1000)), ValueColumn.Of(present)) };
            var expected = Scan(even, settings);
            Assert.Equal(expected, Scan(uneven, settings));
        }, iter: Sampling.Cases(300));

    [Fact]
    public void The_engine_holds_the_very_values_that_the_series_does() =>
        Nights.Any.Sample(night =>
        {
            var series = ConditionedSeries.Of(night.Source, night.Conditioning);
            var run = new EngineRun(night.Settings, night.Feed);
            int piece = 0;
            foreach (var row in night.Rows())
            {
                // A millisecond before the row: what holds then.
                if (row.Time.Milliseconds > 0)
                {
                    var at = row.Time - new Duration(1);
                    run.Step(Stillwatch.Alarms.AlarmInput.AdvanceTo(at));
                    while (piece < series.Pieces.Count && series.Pieces[piece].End <= at) piece++;
                    int? held = piece < series.Pieces.Count && series.Pieces[piece].Start <= at ? series.Pieces[piece].Micro : null;
                    Assert.Equal(held, run.State.SpO2Micro);
                }

                run.Step(row);
            }
        }, iter: Sampling.Cases(150));

    [Fact]
    public void An_empty_channel_says_nothing()
    {
        var source = ConditionedSource.Even([], new Duration(1000));
        Assert.Empty(Scan(source, ConditioningSettings.Default));
        Assert.Equal(0, ConditionedSeries.Of(source, ConditioningSettings.Default).Coverage);
    }

    [Fact]
    public void Valid_time_is_value_and_hold_and_never_what_is_lost()
    {
        // 5 s of values, 5 s held beyond the last one's own second, 10 s lost, 5 s of values.
        var series = ConditionedSeries.Of(Series.Source("96*5 .*15 96*5"), ConditioningSettings.Default);
        Assert.Equal(Duration.FromSeconds(15), series.Valid);
        Assert.Equal(Duration.FromSeconds(25), series.Connected);
        Assert.Equal(0.6, series.Coverage, 12);
    }

    private static List<string> Scan(ConditionedSource source, ConditioningSettings settings)
    {
        var log = new Log();
        ConditionedScan.Run(source, settings, ref log);
        return log.Lines;
    }

    /// <summary>Hold and loss said once more, plainly, over the conditioner.</summary>
    private static List<string> Naive(ConditionedSource source, ConditioningSettings settings)
    {
        var log = new Log();
        var (times, values) = (source.Channel.Times, source.Channel.Values);
        var conditioner = new Conditioner(source.Quantity, settings, times.Period);
        long hold = settings.HoldAfter(times.Period).Milliseconds;
        long? heldUntil = null, lostAt = null, firstValidAfterLoss = null;
        int last = 0;
        bool any = false;
        for (int i = 0; i < times.Count; i++)
        {
            long time = times.TimeAt(i).Milliseconds;
            if (heldUntil < time) Lose();
            var verdict = conditioner.Accept(time, values[i], false, false, out int compared, out bool has);
            if (verdict.IsAccepted() && lostAt is not null) firstValidAfterLoss ??= time;
            if (!has) continue;
            if (!any) log.Value(time, compared, Arrival.First);
            else if (lostAt is { } lost) log.Value(time, compared, firstValidAfterLoss - lost <= 60_000 ? Arrival.BackInTime : Arrival.BackTooLate);
            else if (compared != last) log.Value(time, compared, Arrival.Continues);
            (any, last, heldUntil, lostAt, firstValidAfterLoss) = (true, compared, time + hold, null, null);
        }

        if (heldUntil < times.End.Milliseconds) Lose();
        log.End(times.End.Milliseconds);
        return log.Lines;

        void Lose()
        {
            log.Lost(heldUntil!.Value);
            (lostAt, heldUntil) = (heldUntil, null);
        }
    }

    private struct Log() : IConditionedVisitor
    {
        public readonly List<string> Lines = [];

        public readonly void Value(long milliseconds, int micro, Arrival arrival) => Lines.Add($"{milliseconds} {micro} {arrival}");

        public readonly void Lost(long milliseconds) => Lines.Add($"{milliseconds} lost");

        public readonly void End(long milliseconds) => Lines.Add($"{milliseconds} end");
    }
}
