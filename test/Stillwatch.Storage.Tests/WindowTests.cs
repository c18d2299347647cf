using CsCheck;
using Stillwatch.Signals;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Tests.Inputs;
using Stillwatch.Storage.Tests.Servers;
using Stillwatch.Time;

namespace Stillwatch.Storage.Tests;

/// <summary>A window read from the pyramid, beside a naive scan of all samples.</summary>
public abstract class WindowTests(Stores stores)
{
    private static readonly int Drawn = Environment.GetEnvironmentVariable("STILLWATCH_FULL") == "1" ? 500 : 25;

    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_window_is_what_a_scan_of_the_samples_gives()
    {
        await using var store = await stores.NewAsync();
        int number = 0;
        await Gen.Select(DrawnRecordings.Channel, Gen.Int[0, int.MaxValue]).SampleAsync(
            async (channel, seed) =>
            {
                var stored = DrawnRecordings.ToStore(Alone(channel), Interlocked.Increment(ref number));
                await store.Recordings.StoreAsync(stored, Invented.Nurse, cancellation: Ended);
                var random = new Random(seed);
                for (int i = 0; i < 12; i++)
                {
                    var (from, to, columns) = AnyWindow(channel.Times, random);
                    var found = await store.Recordings.WindowAsync(stored.Id, 0, from, to, columns, Ended);
                    Assert.Equal((from, to, columns), (found.From, found.To, found.Columns));
                    Same(NaiveWindow.Of(channel, from, to, columns), found);
                    LosesNothing(channel, found);
                }
            },
            iter: Drawn, threads: 1);
    }

    [Fact]
    public async Task A_dip_of_one_second_in_three_days_is_seen_at_any_width()
    {
        const int Rows = 72 * 3600;
        const int Dip = 200_001;
        var times = TimeAxis.Even(default, Duration.FromSeconds(1), Rows);
        var stored = Invented.Night("three days") with
        {
            Recording = Alone(new Channel("SpO2", ChannelKind.SpO2, "%", times, ValueColumn.Of(Enumerable.Range(0, Rows).Select(i => (decimal?)(i == Dip ? 61 : 97))))),
        };
        await using var store = await stores.NewAsync();
        await store.Recordings.StoreAsync(stored, Invented.Nurse, cancellation: Ended);
        foreach (int columns in new[] { 1, 7, 60, 1280, 4096 })
        {
            var window = await store.Recordings.WindowAsync(stored.Id, 0, default, times.End, columns, Ended);
            Assert.Equal(61f, window.Least.Min());
            Assert.Equal((int)((long)Dip * columns / Rows), Array.IndexOf(window.Least, 61f), tolerance: 1);
            Assert.Equal(Rows, window.Rows.Sum());
        }
    }

    [Fact]
    public async Task Nothing_is_drawn_over_a_gap()
    {
        var builder = new TimeAxis.Builder();
        var hour = Enumerable.Range(0, 3600).Select(i => i * 1000L);
        foreach (long time in hour.Concat(hour.Select(t => t + 10 * 3_600_000))) builder.Add(time);
        var times = builder.Build();
        var stored = Invented.Night("two hours") with { Recording = Alone(new Channel("SpO2", ChannelKind.SpO2, "%", times, ValueColumn.Of(Enumerable.Repeat((decimal?)95, 7200)))) };
        await using var store = await stores.NewAsync();
        await store.Recordings.StoreAsync(stored, Invented.Nurse, cancellation: Ended);
        var window = await store.Recordings.WindowAsync(stored.Id, 0, default, times.End, 110, Ended);
        // Columns of six minutes, entries of 64 s: the one in which the tenth hour begins starts 32 s before it, in column 99.
        for (int column = 0; column < 110; column++) Assert.Equal(column is < 10 or >= 99, window.Rows[column] > 0);
    }

    [Theory]
    [InlineData(5, 5, 10)]
    [InlineData(6, 5, 10)]
    [InlineData(0, 5, 0)]
    [InlineData(0, 5, 100_001)]
    public async Task A_window_that_is_none_is_refused(int from, int to, int columns)
    {
        await using var store = await stores.NewAsync();
        var night = Invented.Night();
        await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
        await Assert.ThrowsAsync<ArgumentOutOfRangeException>(() => store.Recordings.WindowAsync(night.Id, 0, Invented.At(from), Invented.At(to), columns, Ended));
        await Assert.ThrowsAsync<ArgumentOutOfRangeException>(() => store.Recordings.WindowAsync(night.Id, 2, Invented.At(0), Invented.At(5), 10, Ended));
    }

    private static Recording Alone(Channel channel) => new("alone", new RecordingStart.Unknown(), [channel], SourceAveraging.Unknown, []);

    private static (SampleTime From, SampleTime To, int Columns) AnyWindow(TimeAxis axis, Random random)
    {
        long first = axis.Count > 0 ? axis.First.Milliseconds : 0, span = axis.Count > 0 ? axis.Span.Milliseconds : 1000;
        long length = Math.Max(1, (long)(span * Math.Pow(10, -4 * random.NextDouble()) * 1.2));
        long from = first + random.NextInt64(-length / 3 - 1, span + 1);
        return (new SampleTime(from), new SampleTime(from + length), random.Next(1, 1500));
    }

    private static void Same(ChannelWindow expected, ChannelWindow found)
    {
        Assert.Equal(expected.Rows, found.Rows);
        Assert.Equal(expected.Least, found.Least);
        Assert.Equal(expected.Greatest, found.Greatest);
    }

    // Whatever the level: every number between the two times lies within the range of some column at most one entry away, so none beyond the extremes.
    private static void LosesNothing(Channel channel, ChannelWindow window)
    {
        var inside = NaiveWindow.Numbers(channel).Where(n => n.Time >= window.From.Milliseconds && n.Time < window.To.Milliseconds).ToList();
        if (inside.Count == 0) return;
        Assert.True(window.Least.Where(v => !float.IsNaN(v)).Min() <= inside.Min(n => n.Value));
        Assert.True(window.Greatest.Where(v => !float.IsNaN(v)).Max() >= inside.Max(n => n.Value));
        Assert.True(window.Rows.Sum(r => (long)r) >= inside.Count);
    }
}

public sealed class WindowOnSqlite(SqliteStores stores) : WindowTests(stores), IClassFixture<SqliteStores>;

public sealed class WindowOnPostgres(PostgresStores stores) : WindowTests(stores), IClassFixture<PostgresStores>;
