using System.Runtime.InteropServices;
using System.Text;
using Stillwatch.Conditioning;
using Stillwatch.Tuning.Map;

namespace Stillwatch.Bench;

/// <summary>The settings map of one patient-day against the ordinary ways to the same 9 331 cells (signals and seconds of signal), taking turns in one run.</summary>
/// <remarks>
/// Options: <c>--tiny</c> (one round, few settings of the slow ways), <c>--every-cell</c> (the slow ways, too, are compared in every cell,
/// which takes minutes; otherwise in those that are timed).
/// </remarks>
internal static class MapBench
{
    private const ulong Seed = 20261125;

    private sealed record Competitor(string Name, string Of, Func<double> Seconds)
    {
        public List<double> Times { get; } = [];
    }

    public static int Run(string[] args)
    {
        bool tiny = args.Contains("--tiny"), everyCell = args.Contains("--every-cell");
        int rounds = tiny ? 1 : 11;
        int pureEvery = tiny ? 3001 : 131, engineEvery = tiny ? 4001 : 311, loopEvery = tiny ? 1009 : 31;
        string folder = Directory.CreateTempSubdirectory("stillwatch-bench-").FullName;
        try
        {
            string file = Path.Combine(folder, "patient-day.i16");
            short[] rows = PatientDay.Hundredths(Seed);
            File.WriteAllBytes(file, MemoryMarshal.AsBytes<short>(rows).ToArray());
            var source = PatientDay.Source(rows);
            var series = ConditionedSeries.Of(source, ConditioningSettings.Default);
            short[] seconds = SettingLoop.Seconds(series, rows.Length);
            using var pure = Peer.StartIfThere("plain Python loop", "map_pure.py", file, $"{pureEvery}");
            using var numpyRows = Peer.StartIfThere("numpy sweep of rows", "map_numpy.py", file, "rows");
            using var numpyPieces = Peer.StartIfThere("numpy sweep of pieces", "map_numpy.py", file, "pieces");
            using var numbaLoop = Peer.StartIfThere("numba loop", "map_numba.py", file, "loop");
            using var numbaSweep = Peer.StartIfThere("numba sweep", "map_numba.py", file, "sweep");

            long[] expected = MapJob.Answer(MapJob.Map(source));
            Peer?[] peers = [numpyRows, numpyPieces, numbaLoop, numbaSweep, pure];
            CheckAnswers(expected, source, series, seconds, [.. peers.OfType<Peer>()], Path.Combine(folder, "answer.i64"), everyCell ? 1 : engineEvery, file);

            var competitors = new List<Competitor>
            {
                new("settings map, from rows", "9 331 of 9 331", () => Stopwatches.Seconds(() => MapJob.Map(source))),
                new("settings map, from the conditioned series", "9 331 of 9 331", () => Stopwatches.Seconds(() => SettingsMap.Of(series, source.Quantity, series.Valid, MapJob.Request, []))),
                new("settings map with 601 area thresholds besides", "9 331 + 18 631", () => Stopwatches.Seconds(() => SettingsMap.Of(source, MapJob.Request with { Grid = MapGrid.SpO2Default }, []))),
                new("one scan of the same bytes (sum of 86 400 shorts)", "-", () => Stopwatches.Seconds(() => Sum(rows))),
                Sampled("(a) alarm engine per setting", engineEvery, cell => MapJob.Engine(source, cell)),
                Sampled("(b) loop per setting, C#", loopEvery, cell => MapJob.Loop(seconds, cell)),
            };
            const string all = "9 331 of 9 331";
            if (pure is not null) competitors.Add(new($"(b) loop per setting, {pure.Version}", OfAll(pureEvery), () => pure.Run() * Scale(pureEvery)));
            if (numpyRows is not null) competitors.Add(new($"(c) run-length sweep per limit, {numpyRows.Version}", all, numpyRows.Run));
            if (numpyPieces is not null) competitors.Add(new($"(c') the same after joining equal neighbours, {numpyPieces.Version}", all, numpyPieces.Run));
            if (numbaLoop is not null) competitors.Add(new($"(d) loop per setting, {numbaLoop.Version}", all, numbaLoop.Run));
            if (numbaSweep is not null) competitors.Add(new($"(d') sweep per limit, all delays at once, {numbaSweep.Version}", all, numbaSweep.Run));
            for (int round = -1; round < rounds; round++) // the first round warms up
            {
                foreach (var competitor in competitors)
                {
                    double time = competitor.Seconds();
                    if (round >= 0) competitor.Times.Add(time);
                }
            }

            Console.WriteLine(Page(competitors, rounds, series));
            Console.WriteLine(YearRun.InItsOwnProcess(tiny));
            return 0;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static void CheckAnswers(long[] expected, ConditionedSource source, ConditionedSeries series, short[] seconds, Peer[] peers, string path, int engineEvery, string file)
    {
        MapJob.SameAnswer("map from the conditioned series", expected, MapJob.Answer(SettingsMap.Of(series, source.Quantity, series.Valid, MapJob.Request, [])));
        foreach (var peer in peers) MapJob.SameAnswer(peer.Name, expected, peer.Answer(path));
        MapJob.SameAnswer("C# loop", expected, MapJob.Answer(cell => MapJob.Loop(seconds, cell), every: 1));
        MapJob.SameAnswer("alarm engine", expected, MapJob.Answer(cell => MapJob.Engine(source, cell), engineEvery));
        if (engineEvery > 1) return;
        using var whole = Peer.StartIfThere("plain Python loop, every setting", "map_pure.py", file, "1");
        if (whole is not null) MapJob.SameAnswer(whole.Name, expected, whole.Answer(path));
    }

    /// <summary>Times every n-th setting and scales to all of them; null cells cost nothing and are scaled as such.</summary>
    private static Competitor Sampled(string name, int every, Func<int, (long Signals, long Seconds)> count)
    {
        int[] cells = [.. Enumerable.Range(0, MapJob.Cells).Where(i => i % every == 0)];
        return new Competitor(name, OfAll(every), () =>
        {
            long start = System.Diagnostics.Stopwatch.GetTimestamp();
            foreach (int cell in cells) count(cell);
            return System.Diagnostics.Stopwatch.GetElapsedTime(start).TotalSeconds * Scale(every);
        });
    }

    /// <summary>All settings that are not null over those run that are not null.</summary>
    private static double Scale(int every)
    {
        var all = Enumerable.Range(0, MapJob.Cells).Where(c => !MapJob.IsNull(c)).ToList();
        return (double)all.Count / all.Count(c => c % every == 0);
    }

    private static string OfAll(int every) => $"{(MapJob.Cells + every - 1) / every} of 9 331, scaled";

    private static long Sum(ReadOnlySpan<short> rows)
    {
        var sums = System.Numerics.Vector<int>.Zero;
        var vectors = MemoryMarshal.Cast<short, System.Numerics.Vector<short>>(rows);
        foreach (var vector in vectors)
        {
            System.Numerics.Vector.Widen(vector, out var low, out var high);
            sums += low + high;
        }

        long sum = System.Numerics.Vector.Sum(sums);
        foreach (short row in rows[(vectors.Length * System.Numerics.Vector<short>.Count)..]) sum += row;
        return sum;
    }

    private static string Page(List<Competitor> competitors, int rounds, ConditionedSeries series)
    {
        double map = Stopwatches.Median(competitors[0].Times), fromSeries = Stopwatches.Median(competitors[1].Times);
        var page = new StringBuilder();
        page.AppendLine($"{Machine.Text}. Medians of {rounds} rounds, all taking turns; {series.Pieces.Count} changes of value in the day, coverage {series.Coverage:P1}.");
        page.AppendLine();
        page.AppendLine("| | settings run | median | fastest–slowest | times the map from rows | times the map from the series |");
        page.AppendLine("|---|---|---:|---:|---:|---:|");
        foreach (var c in competitors)
        {
            double median = Stopwatches.Median(c.Times);
            page.AppendLine($"| {c.Name} | {c.Of} | {Stopwatches.Text(median)} | {Stopwatches.Text(c.Times.Min())}–{Stopwatches.Text(c.Times.Max())} | {Ratio(median / map)} | {Ratio(median / fromSeries)} |");
        }

        return page.ToString();
    }

    private static string Ratio(double ratio) => ratio >= 100 ? $"{ratio:N0}" : $"{ratio:0.00}";
}
