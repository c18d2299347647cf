using CsCheck;
using Stillwatch.Signals;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Tests.Inputs;
using Stillwatch.Storage.Tests.Servers;

namespace Stillwatch.Storage.Tests;

/// <summary>What is opened is what was stored, down to the last row, whatever a reader may give.</summary>
public abstract class RecordingRoundTripTests(Stores stores)
{
    private static readonly long Drawn = Environment.GetEnvironmentVariable("STILLWATCH_FULL") == "1" ? 2_000 : 60;

    [Fact]
    public async Task Any_recording_comes_back_as_it_was()
    {
        await using var store = await stores.NewAsync();
        int number = 0;
        await DrawnRecordings.Recording.SampleAsync(
            async recording =>
            {
                var stored = DrawnRecordings.ToStore(recording, Interlocked.Increment(ref number));
                Assert.Equal(StoreOutcome.Stored, await store.Recordings.StoreAsync(stored, Invented.Nurse, cancellation: TestContext.Current.CancellationToken));
                SameRecording.Assert(recording, await store.Recordings.OpenAsync(stored.Id, cancellation: TestContext.Current.CancellationToken));
            },
            iter: Drawn, threads: 1);
    }

    [Fact]
    public async Task Only_the_kinds_that_are_asked_for_are_opened()
    {
        await using var store = await stores.NewAsync();
        var night = Invented.Night();
        await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: TestContext.Current.CancellationToken);
        var opened = await store.Recordings.OpenAsync(night.Id, new HashSet<ChannelKind> { ChannelKind.PulseRate }, TestContext.Current.CancellationToken);
        SameRecording.Assert(night.Recording.Channels[1], Assert.Single(opened.Channels));
    }
}

public sealed class RecordingRoundTripOnSqlite(SqliteStores stores) : RecordingRoundTripTests(stores), IClassFixture<SqliteStores>;

public sealed class RecordingRoundTripOnPostgres(PostgresStores stores) : RecordingRoundTripTests(stores), IClassFixture<PostgresStores>;
