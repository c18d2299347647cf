using Stillwatch.Quantities;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;

namespace Stillwatch.Tests.Map;

/// <summary>Compares cells of a map with what the twin says of the same settings.</summary>
internal static class MapComparison
{
    /// <summary>Every cell of both planes; the first differences in words, empty when there are none.</summary>
    public static string Differences(MapCase drawn)
    {
        var map = SettingsMap.Of(drawn.Source, drawn.Request, drawn.Events);
        var grid = drawn.Request.Grid;
        var twin = new TwinOf(drawn);
        var found = new List<string>();
        for (int limit = 0; limit < grid.LimitsMicro.Count; limit++)
        {
            for (int k = 0; k < grid.Delays.Count; k++)
                Compare($"limit {grid.LimitsMicro[limit]} delay {grid.Delays[k]}", map.ByDelay, limit, k, twin.Cell(limit, grid.Delays[k], Area.Zero), found);
            for (int k = 0; k < grid.Areas.Count; k++)
                Compare($"limit {grid.LimitsMicro[limit]} area {grid.Areas[k]}", map.ByArea, limit, k, twin.Cell(limit, Duration.Zero, grid.Areas[k]), found);
        }

        if (map.Valid.Milliseconds != twin.ValidMilliseconds) found.Add($"valid: found {map.Valid.Milliseconds} ms, expected {twin.ValidMilliseconds}");
        return string.Join('\n', found.Take(8));
    }

    /// <summary>One cell of a map against the twin.</summary>
    public static string Difference(MapCase drawn, TwinOf twin, MapPlane plane, int limit, int threshold, Duration delay, Area area)
    {
        var found = new List<string>();
        Compare($"limit {drawn.Request.Grid.LimitsMicro[limit]} delay {delay} area {area}", plane, limit, threshold, twin.Cell(limit, delay, area), found);
        return string.Join('\n', found);
    }

    private static void Compare(string where, MapPlane plane, int limit, int k, TwinCell? expected, List<string> found)
    {
        if (expected is null)
        {
            if (!plane.IsNull(limit, k) || plane.ActiveMilliseconds[limit, k] != -1 || plane.Missed[limit, k] != -1 || plane.Late[limit, k] != -1)
                found.Add($"{where}: expected a null cell");
            return;
        }

        Check("signals", plane.Signals[limit, k], expected.Signals);
        Check("active ms", plane.ActiveMilliseconds[limit, k], expected.ActiveMilliseconds);
        Check("missed", plane.Missed[limit, k], expected.Missed);
        Check("late", plane.Late[limit, k], expected.Late);
        if (!plane.HasTimesToSignal) return;
        for (int e = 0; e < expected.TimesToSignal.Count; e++)
            Check($"time to signal of event {e}", plane.TimeToSignal(e, limit, k)?.Milliseconds ?? -1, expected.TimesToSignal[e] ?? -1);

        void Check(string what, long actual, long wanted)
        {
            if (actual != wanted) found.Add($"{where}: {what} found {actual}, twin says {wanted}");
        }
    }
}

internal sealed record TwinCell(long Signals, long ActiveMilliseconds, int Missed, int Late, IReadOnlyList<long?> TimesToSignal);

/// <summary>The twin of a drawn case: conditioned once, then asked one setting at a time.</summary>
internal sealed class TwinOf
{
    private readonly MapCase drawn;
    private readonly List<TwinPiece> pieces;

    public TwinOf(MapCase drawn)
    {
        this.drawn = drawn;
        var conditioning = Settings(drawn);
        pieces = NaiveTwin.Pieces(drawn.Series, conditioning);
        ValidMilliseconds = NaiveTwin.Pieces(drawn.Series, conditioning with { AveragingSeconds = 0 }).Sum(p => p.End - p.Start);
    }

    public long ValidMilliseconds { get; }

    public TwinCell? Cell(int limit, Duration delay, Area area)
    {
        if (drawn.Setting(limit, delay, area) is not { } setting) return null;
        var signals = NaiveTwin.Signals(pieces, drawn.Series.End, setting);
        var verdicts = drawn.Events.Select(e => Worst(signals, e)).ToList();
        return new TwinCell(
            signals.Count,
            signals.Sum(s => s.Active.Sum(a => a.End - a.Start)),
            verdicts.Count(v => v.Verdict == 2),
            verdicts.Count(v => v.Verdict == 1),
            [.. verdicts.Select(v => v.After)]);
    }

    private static (int Verdict, long? After) Worst(List<TwinSignal> signals, Stillwatch.Tuning.MustCatch.MustCatchEvent e)
    {
        var parts = e.Parts.Select(p => NaiveTwin.Judge(signals, p.Onset.Milliseconds, p.Within.Milliseconds, p.End.Milliseconds)).ToList();
        return (parts.Max(p => p.Verdict), parts.Any(p => p.After is null) ? null : parts.Max(p => p.After));
    }

    // Only what decides the pieces matters here; the limit is any.
    private static TwinSettings Settings(MapCase drawn)
    {
        var c = drawn.Request.Conditioning;
        return new TwinSettings
        {
            Limit = 0,
            AveragingSeconds = c.Averaging.Milliseconds / 1000m,
            GapToleranceSeconds = c.GapTolerance.Milliseconds / 1000m,
            Standard = c.Validity == Stillwatch.Conditioning.ValidityRule.Standard,
            Rounds = c.Rounding == Stillwatch.Conditioning.Rounding.Display,
        };
    }
}
