using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Bench;

/// <summary>A control that is moved: full evidence on settings nobody asked about before, over thirty nights of thirty patients.</summary>
internal static class AskedBench
{
    private const int Nights = 30;

    public static int Run(string[] args)
    {
        bool tiny = args.Contains("--tiny");
        int hours = tiny ? 1 : 12;
        var rules = ProposalRules.Default;
        Duration[] averagings = [.. new[] { 0, 4, 8, 16 }.Select(s => Duration.FromSeconds(s))];
        var nights = new PatientNights[Nights];
        double ready = Stopwatches.Seconds(() => Parallel.For(0, Nights, i => nights[i] = new PatientNights($"{i:00}", [Night((ulong)i + 1, hours * 3600, rules)], rules, averagings)));
        Console.WriteLine($"{Machine.Text}. {Nights} nights of {hours} h, one row a second, made ready for four averaging times: {Stopwatches.Text(ready)}.");
        Measure("a limit or a delay moves", nights, rules, tiny, i => Low(80 + i % 15, i % 60, 0));
        Measure("an area threshold moves", nights, rules, tiny, i => Low(85 + i % 10, 0, 20 + 5 * i));
        Measure("delay and area together (the engine, no map)", nights, rules, tiny, i => Low(85 + i % 10, 5 + i % 20, 20 + 5 * i));
        Measure("an averaging that is not kept ready", nights, rules, tiny, i => Low(85 + i % 10, 10, 0) with { Averaging = Duration.FromSeconds(20 + i) });
        return 0;
    }

    private static void Measure(string what, PatientNights[] nights, ProposalRules rules, bool tiny, Func<int, CandidateSettings> settings)
    {
        var times = new List<double>();
        for (int i = 0; i < (tiny ? 2 : 60); i++)
        {
            long start = System.Diagnostics.Stopwatch.GetTimestamp();
            var grid = CandidateGrid.Of([settings(i)], SearchBounds.Default);
            var patients = new PatientEvidence[nights.Length];
            Parallel.For(0, nights.Length, p => patients[p] = nights[p].Under(grid));
            _ = SideBySide.Of(grid, patients, rules);
            times.Add(System.Diagnostics.Stopwatch.GetElapsedTime(start).TotalSeconds);
        }

        Console.WriteLine($"  {what}: median {Stopwatches.Text(Stopwatches.Median(times))}, worst {Stopwatches.Text(times.Skip(1).Max())}, the first of this kind in the process {Stopwatches.Text(times[0])}, with {rules.Resamples} resamples.");
    }

    private static CandidateSettings Low(int limit, int delaySeconds, int area) => new(
        new LimitSettings<Percent>(Percent.Of(limit), Duration.FromSeconds(delaySeconds), Area.Of(area), default),
        new BackstopSettings(Percent.Of(78), Duration.FromSeconds(5)), Duration.Zero);

    private static TuningRecording Night(ulong seed, int seconds, ProposalRules rules)
    {
        var source = PatientDay.Source(PatientDay.Hundredths(seed, seconds));
        var definition = MustCatchDefinitions.For(PatientCategory.Adult);
        return new TuningRecording
        {
            Name = $"night {seed}",
            SpO2 = source,
            Definition = definition,
            MustCatch = MustCatchFinder.Find(MustCatchFinder.SeriesFor(source, rules.Conditioning), definition),
        };
    }
}
