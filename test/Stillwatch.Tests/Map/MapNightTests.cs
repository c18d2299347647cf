using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;
using Stillwatch.Tuning.MustCatch;
using Xunit;

namespace Stillwatch.Tests.Map;

/// <summary>The whole default grid on invented nights of eight hours, 200 drawn cells each against the twin.</summary>
public sealed class MapNightTests
{
    private const int Rows = 28_800;
    private const int CellsPerNight = 200;

    [Theory]
    [InlineData(1, 0, 0, false)]
    [InlineData(2, 2, 0, false)]
    [InlineData(3, 3, 8, false)]
    [InlineData(4, 2, 0, true)]
    public void Two_hundred_drawn_cells_of_a_night_equal_the_twin(int seed, int margin, int averagingSeconds, bool withBackstop)
    {
        var random = new Random(seed);
        var series = new TwinSeries(Night(random), 1000);
        var conditioning = ConditioningSettings.Default with { Averaging = Duration.FromSeconds(averagingSeconds) };
        var backstop = withBackstop ? new BackstopSettings(Percent.Of(82), Duration.FromSeconds(5)) : null;
        var request = new MapRequest(LimitSide.Low, MapGrid.SpO2Default, margin * FixedPoint.One, backstop, conditioning, KeepTimesToSignal: true);
        var drawn = new MapCase(series, request, Events(series));
        var map = SettingsMap.Of(drawn.Source, request, drawn.Events);
        Assert.True(map.ByDelay.Signals[20, 10] > 20, "Found a night without signals, expected dips to compare.");
        Assert.True(map.ByDelay.Missed[20, 300] > map.ByDelay.Missed[25, 0] || (withBackstop && drawn.Events.Count > 0), "Found no event missed by a long delay, expected some.");
        var twin = new TwinOf(drawn);
        for (int i = 0; i < CellsPerNight; i++)
        {
            bool areaPlane = i % 2 == 1;
            int limit = random.Next(31);
            int k = areaPlane ? random.Next(61) : Math.Min(random.Next(301), random.Next(301)); // short delays are where signals are
            string difference = areaPlane
                ? MapComparison.Difference(drawn, twin, map.ByArea, limit, k, Duration.Zero, MapGrid.SpO2Default.Areas[k])
                : MapComparison.Difference(drawn, twin, map.ByDelay, limit, k, MapGrid.SpO2Default.Delays[k], Area.Zero);
            Assert.True(difference.Length == 0, difference);
        }
    }

    /// <summary>Invented: a wandering baseline, trains of dips, spikes, zeros, rows without a number, the sensor off for minutes.</summary>
    private static List<(long Time, decimal? Value)> Night(Random random)
    {
        var rows = new List<(long, decimal?)>(Rows);
        double baseline = 95, dip = 0;
        int dipping = 0, missing = 0;
        for (int i = 0; i < Rows; i++)
        {
            baseline += 0.01 * (95 - baseline) + 0.15 * (random.NextDouble() - 0.5);
            if (dipping == 0 && random.Next(120) == 0) dipping = random.Next(10, 150);
            dip = dipping > 0 ? dip + random.NextDouble() * 0.6 : dip * 0.8;
            if (dipping > 0) dipping--;
            if (missing == 0 && random.Next(700) == 0) missing = random.Next(3) switch { 0 => random.Next(1, 8), 1 => random.Next(8, 75), _ => random.Next(55, 300) };
            decimal value = Math.Clamp(Math.Round((decimal)(baseline - Math.Min(dip, 30)), 1), 40, 100);
            if (random.Next(400) == 0) value = random.Next(3) == 0 ? 0 : Math.Max(1, value - 35);
            rows.Add((i * 1000L, missing > 0 ? null : value));
            if (missing > 0) missing--;
        }

        return rows;
    }

    /// <summary>At most 85 for at least 60 s, below 80 for at least 15 s, straight from the twin's unaveraged pieces; overlapping parts are one event.</summary>
    private static List<MustCatchEvent> Events(TwinSeries series)
    {
        var pieces = NaiveTwin.Pieces(series, new TwinSettings { Limit = 0 });
        var parts = Stretches(pieces, v => v <= 85, 60_000).Concat(Stretches(pieces, v => v < 80, 15_000)).OrderBy(p => p.Onset).ToList();
        var events = new List<MustCatchEvent>();
        foreach (var part in parts)
        {
            if (events.Count > 0 && part.Onset < events[^1].End)
            {
                var before = events[^1];
                events[^1] = before with { End = part.End > before.End ? part.End : before.End, Parts = [.. before.Parts, part] };
            }
            else
            {
                events.Add(new MustCatchEvent(part.Onset, part.End, Percent.Of(80), [part]));
            }
        }

        return events;
    }

    private static IEnumerable<MustCatchPart> Stretches(List<TwinPiece> pieces, Func<decimal, bool> belongs, long atLeast)
    {
        long? onset = null;
        long end = 0;
        foreach (var piece in pieces.Append(new TwinPiece(long.MaxValue, long.MaxValue, 100, true, false)))
        {
            bool goesOn = belongs(piece.Value) && (onset is null || piece.Start == end);
            if (onset is { } from && !goesOn)
            {
                if (end - from >= atLeast) yield return new MustCatchPart(new SampleTime(from), new SampleTime(end), new Duration(atLeast), "drawn");
                onset = null;
            }

            if (belongs(piece.Value)) onset ??= piece.Start;
            end = piece.End;
        }
    }
}
