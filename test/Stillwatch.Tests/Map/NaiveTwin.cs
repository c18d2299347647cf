namespace Stillwatch.Tests.Map;

/// <summary>Rows as a source gives them: time in milliseconds, a number or none; P in milliseconds.</summary>
internal sealed record TwinSeries(IReadOnlyList<(long Time, decimal? Value)> Rows, long Period, bool IsPulse = false)
{
    /// <summary>R1.</summary>
    public long End => Rows.Count > 0 ? Rows[^1].Time + Period : 0;
}

/// <summary>One setting, in the words and units of the rules.</summary>
internal sealed record TwinSettings
{
    public required decimal Limit { get; init; }
    public bool High { get; init; }
    public decimal DelaySeconds { get; init; }
    public decimal Area { get; init; }
    public decimal Margin { get; init; }
    public decimal? Backstop { get; init; }
    public decimal BackstopDelaySeconds { get; init; }
    public decimal AveragingSeconds { get; init; }
    public decimal GapToleranceSeconds { get; init; } = 5;
    public bool Standard { get; init; } = true;
    public bool Rounds { get; init; } = true;
}

/// <summary>A stretch of one compared value; AfterLoss and BackInTime say how it follows the one before.</summary>
internal sealed record TwinPiece(long Start, long End, decimal Value, bool AfterLoss, bool BackInTime);

/// <summary>A signal with the stretches in which it was active (not suspended by a loss).</summary>
internal sealed record TwinSignal(long Start, long End, string How, IReadOnlyList<(long Start, long End)> Active);

/// <summary>
/// The rules R1–R9 and R13 written down once more, slowly: decimals, one row after the other, one setting at a time. Shares nothing
/// with the product but the rules, so that what both say is not one mistake made twice.
/// </summary>
internal static class NaiveTwin
{
    public static IReadOnlyList<(long start, long end, string how)> TwinSignals(TwinSeries series, TwinSettings settings) =>
        [.. Signals(Pieces(series, settings), series.End, settings).Select(s => (s.Start, s.End, s.How))];

    /// <summary>R2 to R6.</summary>
    public static List<TwinPiece> Pieces(TwinSeries series, TwinSettings settings)
    {
        var accepted = Accepted(series, settings);
        var compared = Compared(series, settings, accepted);
        long hold = HoldMilliseconds(series, settings);
        var pieces = new List<TwinPiece>();
        bool afterLoss = false, backInTime = false;
        for (int i = 0; i < compared.Count; i++)
        {
            var (time, value) = compared[i];
            long next = i + 1 < compared.Count ? compared[i + 1].Time : series.End;
            long end = Math.Min(next, time + hold);
            pieces.Add(new TwinPiece(time, end, value, afterLoss, backInTime));
            afterLoss = end < next;
            if (afterLoss)
            {
                long[] later = [.. accepted.Where(a => a.Time > end).Take(1).Select(a => a.Time)];
                backInTime = later.Length > 0 && later[0] - end <= 60_000;
            }
        }

        return pieces;
    }

    /// <summary>R7 to R9.</summary>
    public static List<TwinSignal> Signals(IReadOnlyList<TwinPiece> pieces, long recordingEnd, TwinSettings s)
    {
        bool Beyond(decimal value, decimal limit) => s.High ? value > limit : value < limit;
        bool Clears(decimal value) => s.High ? value <= s.Limit - s.Margin : value >= s.Limit + s.Margin;

        var signals = new List<TwinSignal>();
        TwinRun? run = null, backstopRun = null;
        long? start = null;
        var active = new List<(long, long)>();
        long previousEnd = 0;

        void Stop(long at, string how)
        {
            if (start is { } from) signals.Add(new TwinSignal(from, at, how, [.. active]));
            start = null;
            active.Clear();
        }

        foreach (var piece in pieces)
        {
            if (piece.AfterLoss && !piece.BackInTime)
            {
                run = backstopRun = null;
                Stop(previousEnd, "lost");
            }

            if (!Beyond(piece.Value, s.Limit)) run = null;
            if (s.Backstop is not { } b || piece.Value >= b) backstopRun = null;
            if (Clears(piece.Value)) Stop(piece.AfterLoss ? previousEnd : piece.Start, piece.AfterLoss ? "lost" : "cleared");

            if (Beyond(piece.Value, s.Limit))
            {
                run ??= new TwinRun(s.DelaySeconds, s.Area);
                run.Add(piece, Math.Abs(s.Limit - piece.Value));
            }

            if (s.Backstop is { } backstop && piece.Value < backstop)
            {
                backstopRun ??= new TwinRun(s.BackstopDelaySeconds, 0);
                backstopRun.Add(piece, backstop - piece.Value);
            }

            long? qualified = Earlier(run?.QualifiedAt, backstopRun?.QualifiedAt);
            start ??= qualified;
            if (start is { } began) active.Add((Math.Max(began, piece.Start), piece.End));
            previousEnd = piece.End;
        }

        Stop(previousEnd, previousEnd < recordingEnd ? "lost" : "end");
        return signals;
    }

    /// <summary>R13 for one part of an event: verdict (0 in time, 1 late, 2 missed) and time to signal.</summary>
    public static (int Verdict, long? After) Judge(IReadOnlyList<TwinSignal> signals, long onset, long within, long end)
    {
        var instants = signals.SelectMany(s => s.Active).Where(a => a.End > onset).Select(a => Math.Max(a.Start, onset)).ToList();
        if (instants.Count == 0) return (2, null);
        long first = instants.Min();
        return first <= onset + within ? (0, first - onset) : first < end ? (1, first - onset) : (2, null);
    }

    private static long? Earlier(long? a, long? b) => a is null ? b : b is null ? a : Math.Min(a.Value, b.Value);

    private static long HoldMilliseconds(TwinSeries series, TwinSettings settings)
    {
        decimal period = series.Period / 1000m;
        decimal tolerance = period > 5 ? Math.Max(period, settings.GapToleranceSeconds) : settings.GapToleranceSeconds;
        return (long)((period + tolerance) * 1000);
    }

    /// <summary>R2.</summary>
    private static List<(long Time, decimal Value)> Accepted(TwinSeries series, TwinSettings settings)
    {
        var accepted = new List<(long Time, decimal Value)>();
        foreach (var (time, value) in series.Rows)
        {
            if (value is not { } number) continue;
            if (settings.Standard)
            {
                if (number <= 0) continue;
                if (!series.IsPulse)
                {
                    if (number > 100) continue;
                    if (accepted.Count > 0)
                    {
                        decimal since = (time - accepted[^1].Time) / 1000m;
                        if (since <= 3 && Math.Abs(number - accepted[^1].Value) > 10 * since) continue;
                    }
                }
            }

            accepted.Add((time, number));
        }

        return accepted;
    }

    /// <summary>R4 and R6. Without rounding a mean is kept to a millionth, the product's stated resolution.</summary>
    private static List<(long Time, decimal Value)> Compared(TwinSeries series, TwinSettings settings, List<(long Time, decimal Value)> accepted)
    {
        long averaging = (long)(settings.AveragingSeconds * 1000);
        bool averages = averaging > series.Period;
        decimal needed = averages ? Math.Ceiling(averaging / (2m * series.Period)) : 1;
        var compared = new List<(long Time, decimal Value)>();
        var window = new List<(long Time, decimal Value)>();
        foreach (var sample in accepted)
        {
            if (window.Count > 0 && sample.Time - window[^1].Time > HoldMilliseconds(series, settings)) window.Clear();
            window.Add(sample);
            var used = averages ? window.Where(w => w.Time > sample.Time - averaging).ToList() : [sample];
            if (used.Count < needed) continue;
            decimal mean = used.Sum(u => u.Value) / used.Count;
            compared.Add((sample.Time, Math.Round(mean, settings.Rounds ? 0 : 6, MidpointRounding.AwayFromZero)));
            if (window.Count > 200) window.RemoveRange(0, window.Count - 100);
        }

        return compared;
    }

    /// <summary>An open run: how long it has lasted and how much area it holds, lost time not counted.</summary>
    private sealed class TwinRun(decimal delaySeconds, decimal areaThreshold)
    {
        private readonly long delay = (long)(delaySeconds * 1000);
        private long lasted;
        private decimal area;
        private long? delayFull;
        private long? areaFull;

        /// <summary>The later of the two, once both are exceeded.</summary>
        public long? QualifiedAt => delayFull is { } d && areaFull is { } a ? Math.Max(d, a) : null;

        public void Add(TwinPiece piece, decimal depth)
        {
            long length = piece.End - piece.Start;
            if (lasted + length > delay) delayFull ??= piece.Start + (delay - lasted);
            decimal grown = area + depth * length / 1000m;
            if (grown > areaThreshold) areaFull ??= piece.Start + (long)Math.Floor((areaThreshold - area) * 1000 / depth);
            lasted += length;
            area = grown;
        }
    }
}
