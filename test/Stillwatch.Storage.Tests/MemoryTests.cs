using Stillwatch.Signals;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Tests.Inputs;
using Stillwatch.Storage.Tests.Servers;
using Stillwatch.Time;

namespace Stillwatch.Storage.Tests;

/// <summary>Alone, for it looks at the memory of the whole process.</summary>
[CollectionDefinition(nameof(Alone), DisableParallelization = true)]
public sealed class Alone;

[Collection(nameof(Alone))]
public class MemoryTests(SqliteStores stores) : IClassFixture<SqliteStores>
{
    private const int Rows = 8_000_000; // 18 hours at 125 Hz, 16 MB

    private const long Room = 6_000_000;

    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Storing_a_long_waveform_holds_one_chunk_beside_it()
    {
        await using var store = await stores.NewAsync();
        await store.Recordings.StoreAsync(Invented.Night("warm-up"), Invented.Nurse, cancellation: Ended);
        var night = Waveform();
        long before = GC.GetTotalMemory(forceFullCollection: true);
        var watch = new Watch();
        await store.Recordings.StoreAsync(night, Invented.Nurse, watch, Ended);
        Assert.True(watch.Looks > 5);
        Assert.InRange(watch.Most - before, long.MinValue, Room);

        GC.KeepAlive(night);
    }

    [Fact]
    public async Task A_backup_and_its_restoring_need_less_memory_than_what_is_moved()
    {
        var place = stores.NewPlace();
        await using (var store = await stores.OpenAsync(place))
        {
            for (int i = 0; i < 6; i++) await store.Recordings.StoreAsync(Waveform($"long {i}"), Invented.Nurse, cancellation: Ended);
        }

        string file = ((StorePlace.SqliteFile)place).Path, backup = file + ".zip";
        Assert.True(new FileInfo(file).Length > 3 * Mover.HeapBytes, $"{new FileInfo(file).Length}");
        Assert.Equal("", await Mover.RunInLittleMemoryAsync(file, backup, ((StorePlace.SqliteFile)stores.NewPlace()).Path));
    }

    private static NewRecording Waveform(string name = "long")
    {
        var random = new Random(5);
        var counts = new CountColumn.Builder();
        for (int i = 0; i < Rows; i++) counts.Add(random.Next(-30_000, 30_000));
        var channel = new Channel("Pleth", ChannelKind.Pleth, "1", TimeAxis.Even(default, SampleRate.Of(125, 1000), Rows), counts.Build(Calibration.Counts));
        return Invented.Night(name) with { Recording = new Recording(name, new RecordingStart.Unknown(), [channel], SourceAveraging.Unknown, []) };
    }

    private sealed class Watch : IProgress<double>
    {
        private int reports;

        public long Most { get; private set; }

        public int Looks { get; private set; }

        public void Report(double value)
        {
            if (reports++ % 100 != 50) return;
            Looks++;
            Most = Math.Max(Most, GC.GetTotalMemory(forceFullCollection: true));
        }
    }
}
