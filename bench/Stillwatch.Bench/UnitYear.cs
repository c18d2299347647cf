using System.Diagnostics;
using Stillwatch.Conditioning;
using Stillwatch.Signals;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;

namespace Stillwatch.Bench;

/// <summary>
/// A unit of 30 beds for a year, one row a second: every patient-day is taken out of a real store, conditioned and mapped over 31 limits × 301
/// delays, and the maps are added up. A quarter and a sixteenth of it besides, for the cost must be in line with the data.
/// </summary>
internal static class UnitYear
{
    public const string Verb = "unit-year";

    private const int PatientDays = 30 * 365;

    private static readonly HashSet<ChannelKind> SpO2Alone = [ChannelKind.SpO2];

    public static int Measure(string[] args) => MeasureAsync(args.Contains("--tiny")).GetAwaiter().GetResult();

    private static async Task<int> MeasureAsync(bool tiny)
    {
        int days = tiny ? 16 : PatientDays;
        string folder = Directory.CreateTempSubdirectory("stillwatch-unit-year-").FullName;
        try
        {
            string file = Path.Combine(folder, "unit.db");
            await using var store = await WorkbenchStore.OpenAsync(new StorePlace.SqliteFile(file), TimeProvider.System, CancellationToken.None);
            long start = Stopwatch.GetTimestamp();
            var ids = new List<RecordingId>(days);
            for (int day = 0; day < days; day++) ids.Add(await StoreDayAsync(store, day));
            Console.WriteLine($"{days:N0} invented patient-days stored one by one in {Stopwatches.Text(Stopwatch.GetElapsedTime(start).TotalSeconds)} (invented, packed, durable); {new FileInfo(file).Length / 1e6:N0} MB.");
            foreach (int share in new[] { 16, 4, 1 }) await MapAsync(store, ids[..(days / share)]);
            Console.WriteLine(Machine.Text);
            return 0;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task MapAsync(WorkbenchStore store, List<RecordingId> ids)
    {
        long start = Stopwatch.GetTimestamp();
        SettingsMap? sum = null;
        var door = new Lock();
        await Parallel.ForEachAsync(ids, async (id, cancellation) =>
        {
            var recording = await store.Recordings.OpenAsync(id, SpO2Alone, cancellation);
            var map = SettingsMap.Of(ConditionedSource.SpO2Of(recording)!, MapJob.Request, []);
            lock (door) sum = sum is null ? map : SettingsMap.Sum([sum, map]);
        });
        double seconds = Stopwatch.GetElapsedTime(start).TotalSeconds;
        Console.WriteLine(
            $"{ids.Count,7:N0} patient-days mapped over {MapJob.Cells:N0} settings: {Stopwatches.Text(seconds)}, {1e3 * seconds / ids.Count:0.00} ms each; " +
            $"peak memory of the process {Machine.PeakBytes() / 1e6:0} MB; {sum!.Valid.Hours / 24:N0} days of valid time.");
    }

    private static async Task<RecordingId> StoreDayAsync(WorkbenchStore store, int day)
    {
        var channel = PatientDay.Source(PatientDay.Hundredths((ulong)day)).Channel;
        var id = RecordingId.OfIdentity($"invented patient-day {day}");
        await store.Recordings.StoreAsync(
            new NewRecording
            {
                Id = id,
                Recording = new Recording($"day {day}", new RecordingStart.Unknown(), [channel], SourceAveraging.Unknown, []),
                Files = [new SourceFile($"day-{day}", $"{day:x64}", 0)],
                Format = "invented",
                Issues = [],
                IsInvented = true,
            },
            Actor.Local);
        return id;
    }
}
