using System.Diagnostics;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Tests.Inputs;
using Stillwatch.Storage.Tests.Servers;

namespace Stillwatch.Storage.Tests.Killing;

/// <summary>
/// A program that is killed in the middle of an import (SIGKILL: it gets no chance to tidy up) loses nothing that was reported stored,
/// leaves nothing half, and can be run again without doubles.
/// </summary>
public abstract class KillTests(Stores stores)
{
    private static readonly string[] Moments = Environment.GetEnvironmentVariable("STILLWATCH_FULL") == "1"
        ? [.. Enumerable.Range(0, Importer.Recordings).SelectMany(r => Enumerable.Range(0, 11).Select(t => $"writing {r} {t}").Append($"stored {r}").Append($"marked {r}"))]
        : ["writing 0 0", "writing 0 5", "writing 1 9", "writing 1 10", "stored 1", "marked 1", "writing 3 3"];

    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    public static TheoryData<string> AllMoments => [.. Moments];

    [Theory]
    [MemberData(nameof(AllMoments))]
    public async Task Killed_at(string moment)
    {
        var place = stores.NewPlace();
        var said = await RunAndKillAsync(place, moment);
        var reported = said.Where(l => l.StartsWith("stored ", StringComparison.Ordinal)).Select(l => int.Parse(l[7..])).ToList();
        var marked = said.Where(l => l.StartsWith("marked ", StringComparison.Ordinal)).Select(l => int.Parse(l[7..])).ToList();

        await using var store = await stores.OpenAsync(place);
        // Whatever is to be seen is whole, and what was reported is to be seen.
        var seen = await store.Recordings.FindAsync(new RecordingFilter(), Ended);
        foreach (var recording in seen)
        {
            var expected = Importer.Night(Enumerable.Range(0, Importer.Recordings).Single(i => Importer.Night(i).Id == recording.Id));
            SameRecording.Assert(expected.Recording, await store.Recordings.OpenAsync(recording.Id, cancellation: Ended));
            Assert.Equal(expected.Attachments[0].Content, (await store.Recordings.AttachmentsAsync(recording.Id, Ended)).Single().Content);
        }

        Assert.All(reported, i => Assert.Contains(seen, r => r.Id == Importer.Night(i).Id));
        foreach (int i in marked) Assert.Equal(Importer.Mark(i), (await store.Marks.OfAsync(Importer.Night(i).Id, Ended)).Single().Mark);
        Assert.True((await store.Audit.VerifyAsync(Ended)).IsWhole);

        // The import again: no doubles, and nothing that was left behind stands in the way.
        for (int i = 0; i < Importer.Recordings; i++)
        {
            var outcome = await store.Recordings.StoreAsync(Importer.Night(i), Invented.Nurse, cancellation: Ended);
            if (reported.Contains(i)) Assert.Equal(StoreOutcome.AlreadyThere, outcome);
        }

        Assert.Equal(Importer.Recordings, (await store.Recordings.FindAsync(new RecordingFilter(), Ended)).Count);
        Assert.Equal((long)Importer.Recordings, await stores.AskAsync(place, "SELECT COUNT(*) FROM audit WHERE action = 'recording.imported'"));
        Assert.Equal((long)Importer.Recordings, await stores.AskAsync(place, "SELECT COUNT(*) FROM channels"));
        Assert.True((await store.Audit.VerifyAsync(Ended)).IsWhole);
    }

    private static async Task<IReadOnlyList<string>> RunAndKillAsync(StorePlace place, string moment)
    {
        var start = new ProcessStartInfo("dotnet") { RedirectStandardOutput = true };
        foreach (string argument in new[] { typeof(Importer).Assembly.Location, Importer.Command, Importer.TextOf(place) }) start.ArgumentList.Add(argument);
        using var child = Process.Start(start)!;
        var said = new List<string>();
        while (await child.StandardOutput.ReadLineAsync(Ended) is { } line)
        {
            said.Add(line);
            if (line == moment) child.Kill();
        }

        await child.WaitForExitAsync(Ended);
        Assert.Contains(moment, said);
        Assert.NotEqual(0, child.ExitCode);
        return said;
    }
}

public sealed class KillOnSqlite(SqliteStores stores) : KillTests(stores), IClassFixture<SqliteStores>;

public sealed class KillOnPostgres(PostgresStores stores) : KillTests(stores), IClassFixture<PostgresStores>;
