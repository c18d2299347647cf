using System.Globalization;
using CsCheck;
using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Tests.Map;

/// <summary>A series, a request and some events, drawn at random: odd grids, uneven times, gaps, losses about 60 s long, doubted jumps.</summary>
internal sealed record MapCase(TwinSeries Series, MapRequest Request, IReadOnlyList<MustCatchEvent> Events)
{
    public ConditionedSource Source => SourceOf(Series);

    public static ConditionedSource SourceOf(TwinSeries series)
    {
        var times = new TimeAxis.Builder();
        foreach (var (time, _) in series.Rows) times.Add(time);
        var quantity = series.IsPulse ? ConditionedQuantity.PulseRate : ConditionedQuantity.SpO2;
        var kind = series.IsPulse ? ChannelKind.PulseRate : ChannelKind.SpO2;
        var channel = new Channel("drawn", kind, series.IsPulse ? "/min" : "%", times.Build(new Duration(series.Period)), ValueColumn.Of(series.Rows.Select(r => r.Value)));
        return new ConditionedSource(channel, quantity);
    }

    /// <summary>The settings of one cell, for the twin; null for a cell that must be null.</summary>
    public TwinSettings? Setting(int limitIndex, Duration delay, Area area)
    {
        decimal limit = Request.Grid.LimitsMicro[limitIndex] / 1_000_000m;
        decimal margin = Request.ClearMarginMicro / 1_000_000m;
        bool high = Request.Side == LimitSide.High;
        if (!high && !Series.IsPulse && limit + margin > 100) return null;
        if (high && limit - margin < 0) return null;
        if (Request.Backstop is { } backstop && limit <= backstop.Limit.Value) return null;
        return new TwinSettings
        {
            Limit = limit,
            High = high,
            DelaySeconds = delay.Milliseconds / 1000m,
            Area = area.Value,
            Margin = margin,
            Backstop = Request.Backstop?.Limit.Value,
            BackstopDelaySeconds = (Request.Backstop?.Delay.Milliseconds ?? 0) / 1000m,
            AveragingSeconds = Request.Conditioning.Averaging.Milliseconds / 1000m,
            GapToleranceSeconds = Request.Conditioning.GapTolerance.Milliseconds / 1000m,
            Standard = Request.Conditioning.Validity == ValidityRule.Standard,
            Rounds = Request.Conditioning.Rounding == Rounding.Display,
        };
    }

    public override string ToString() =>
        string.Create(CultureInfo.InvariantCulture, $"period {Series.Period} ms, pulse {Series.IsPulse}, {Series.Rows.Count} rows: {string.Join(' ', Series.Rows.Select(r => $"{r.Time}:{r.Value}"))}\n")
        + $"{Request.Side}, margin {Request.ClearMarginMicro}, backstop {Request.Backstop}, {Request.Conditioning}\n"
        + $"limits {string.Join(' ', Request.Grid.LimitsMicro)}\ndelays {string.Join(' ', Request.Grid.Delays.Select(d => d.Milliseconds))}\nareas {string.Join(' ', Request.Grid.Areas)}\n"
        + string.Join('\n', Events.SelectMany((e, i) => e.Parts.Select(p => $"event {i}: {p.Onset.Milliseconds}–{p.End.Milliseconds} within {p.Within}")));

    public static Gen<MapCase> Draw(int maxSegments, int maxRows) =>
        from pulse in Gen.Frequency((4, Gen.Const(false)), (1, Gen.Const(true)))
        from series in Rows(pulse, maxSegments, maxRows)
        from request in RequestFor(pulse)
        from events in request.Side == LimitSide.Low ? EventsWithin(series.End) : Gen.Const<IReadOnlyList<MustCatchEvent>>([])
        select new MapCase(series, request, events);

    private static Gen<TwinSeries> Rows(bool pulse, int maxSegments, int maxRows)
    {
        var whole = Gen.Int[82, 97].Select(v => (decimal)v);
        var tenth = Gen.Int[820, 970].Select(v => v / 10m);
        var odd = Gen.Frequency((6, Gen.Int[1, 100].Select(v => (decimal)v)), (1, Gen.Const(0m)), (1, Gen.Const(101m)), (1, Gen.Const(-1m)));
        var fine = Gen.Int[88_000_000, 91_000_000].Select(v => v / 1_000_000m);
        var value = Gen.Frequency((10, whole), (4, tenth), (2, odd), (1, fine)).Select(v => (decimal?)v);
        var wordLength = Gen.Frequency((4, Gen.Int[1, 3]), (4, Gen.Int[1, 12]), (1, Gen.Int[20, 90]));
        var gapLength = Gen.Frequency((4, Gen.Int[1, 3]), (4, Gen.Int[3, 10]), (2, Gen.Int[55, 72]), (1, Gen.Int[100, 140]));
        var segment = Gen.Frequency((5, Gen.Select(value, wordLength)), (2, Gen.Select(Gen.Const((decimal?)null), gapLength)));
        var even = Gen.OneOf(1000L, 1000L, 1000L, 500L, 2000L, 4000L, 7000L).Select(p => (Period: p, Steps: new[] { p }));
        var uneven = Gen.OneOf(1000L, 2000L).SelectMany(p => Gen.OneOf(1L, 333L, 700L, 1000L, 1001L, 2500L, 3000L, 3001L, 6000L, 59_000L).Array[5, 40].Select(s => (Period: p, Steps: s)));
        return from segments in segment.Array[1, maxSegments]
               from pace in Gen.Frequency((3, even), (1, uneven))
               from origin in Gen.OneOf(0L, 0L, -90_000L, 123_456_789L)
               select Lay(segments, pace.Period, pace.Steps, origin, pulse, maxRows);
    }

    private static TwinSeries Lay((decimal? Value, int Length)[] segments, long period, long[] steps, long origin, bool pulse, int maxRows)
    {
        var rows = new List<(long, decimal?)>();
        long time = origin;
        foreach (var (value, length) in segments)
        {
            for (int i = 0; i < length && rows.Count < maxRows; i++)
            {
                rows.Add((time, value));
                time += steps[rows.Count % steps.Length];
            }
        }

        return new TwinSeries(rows, period, pulse);
    }

    private static Gen<MapRequest> RequestFor(bool pulse) =>
        from high in Gen.Frequency((3, Gen.Const(false)), (1, Gen.Const(true)))
        from limits in Gen.Frequency(
            (2, Gen.Int[80, 100].Select(l => l * 1_000_000)),
            (1, Gen.Int[160, 200].Select(l => l * 500_000)),
            (1, Gen.Int[88_000_000, 91_000_000])).Array[1, 6]
        from delays in Grid(Gen.OneOf(0L, 1L, 999L, 1000L, 1500L, 2000L, 3000L, 4000L, 6000L, 9000L, 12_000L, 20_000L, 45_000L, 90_000L), 1000)
        from areas in Grid(Gen.OneOf(0L, 1L, 700_000_000L, 1_000_000_000L, 7_000_000_000L, 10_000_000_000L, 13_333_000_000L, 30_000_000_000L, 75_000_000_000L, 200_000_000_000L), 5_000_000_000)
        from margin in Gen.OneOf(0, 0, 500_000, 1_000_000, 2_000_000, 3_000_000)
        from averaging in Gen.OneOf(0L, 0L, 3000L, 5000L, 8000L, 16_000L)
        from tolerance in Gen.OneOf(0L, 1000L, 2500L, 5000L, 5000L, 8000L)
        from standard in Gen.Frequency((3, Gen.Const(ValidityRule.Standard)), (1, Gen.Const(ValidityRule.None)))
        from rounding in Gen.OneOf(Rounding.Display, Rounding.None)
        from backstop in Gen.Select(Gen.Int[78, 90], Gen.OneOf(0L, 2000L, 5000L)).Select(b => new BackstopSettings(Percent.Of(b.Item1), new Duration(b.Item2)))
        from hasBackstop in Gen.Bool
        select new MapRequest(
            high ? LimitSide.High : LimitSide.Low,
            new MapGrid([.. limits.Distinct().Order()], [.. delays.Select(d => new Duration(d))], [.. areas.Select(a => new Area(a))]),
            margin,
            hasBackstop && !high && !pulse ? backstop : null,
            new ConditioningSettings(standard, new Duration(averaging), new Duration(tolerance), rounding),
            KeepTimesToSignal: true);

    private static Gen<long[]> Grid(Gen<long> odd, long step) => Gen.Frequency(
        (2, odd.Array[0, 8].Select(a => a.Distinct().Order().ToArray())),
        (1, Gen.Int[1, 25].Select(n => Enumerable.Range(0, n).Select(i => i * step).ToArray())));

    private static Gen<IReadOnlyList<MustCatchEvent>> EventsWithin(long end)
    {
        var part = Gen.Select(Gen.Int[-20, 600], Gen.Int[0, 120], Gen.Int[0, 90], Gen.OneOf(0, 0, 1, 500)).Select(d =>
        {
            long onset = end - d.Item1 * 1000L + d.Item4;
            return new MustCatchPart(new SampleTime(onset), new SampleTime(onset + 1000 + d.Item2 * 1000L), new Duration(d.Item3 * 1000L), "drawn");
        });
        return part.Array[1, 3].Array[0, 4].Select(all => (IReadOnlyList<MustCatchEvent>)
            [.. all.Select(parts => new MustCatchEvent(parts.MinBy(p => p.Onset)!.Onset, parts.MaxBy(p => p.End)!.End, Percent.Of(80), parts))]);
    }
}
