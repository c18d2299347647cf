using System.Security.Cryptography;
using System.Text;
using Stillwatch.Storage.Audit;
using Stillwatch.Storage.Tests.Inputs;
using Stillwatch.Storage.Tests.Servers;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Storage.Tests;

public abstract class AuditTests(Stores stores)
{
    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Lines_are_numbered_without_gaps_and_each_holds_the_hash_of_the_one_before()
    {
        await using var store = await stores.NewAsync();
        for (int i = 1; i <= 5; i++) await store.Audit.NoteAsync("export.written", $"night {i}.csv", $"{{\"rows\":{i}}}", Invented.Nurse, Ended);
        var lines = await store.Audit.LatestAsync(3, Ended);
        Assert.Equal([5, 4, 3], lines.Select(l => l.Number));
        Assert.Equal(lines[1].Hash, lines[0].PreviousHash);
        Assert.Equal(("export.written", "night 5.csv", "{\"rows\":5}", Invented.Nurse), (lines[0].Action, lines[0].Subject, lines[0].DetailJson, lines[0].By));
        Assert.Equal(new string('0', 64), (await store.Audit.LatestAsync(9, Ended))[^1].PreviousHash);
        Assert.Equal(new AuditVerdict(5, lines[0].Hash, null, null), await store.Audit.VerifyAsync(Ended));
        Assert.Equal(new AuditVerdict(0, new string('0', 64), null, null), await (await stores.NewAsync()).Audit.VerifyAsync(Ended));
    }

    [Fact]
    public async Task The_hash_is_the_documented_one()
    {
        await using var store = await stores.NewAsync();
        await store.Audit.NoteAsync("export.written", "Ärzte \0 \\", "{}", new Actor("anna"), Ended);
        var line = (await store.Audit.LatestAsync(1, Ended))[0];
        // Written out by hand from docs/files.md: each part as its length in bytes, a colon, the part as it stands in the table, a line feed.
        string at = line.At.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'");
        string text = $"18:stillwatch.audit/1\n1:1\n24:{at}\n4:anna\n14:export.written\n16:Ärzte \\u0000 \\\\\n2:{{}}\n64:{new string('0', 64)}\n";
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text))), line.Hash);
    }

    // what was done | statements | the line that is named
    private const string Tampering = """
        a line changed                 | UPDATE audit SET by_actor = 'somebody' WHERE number = 3                                                          | 3
        a time changed                 | UPDATE audit SET at = '2031-01-01T00:00:00.000Z' WHERE number = 1                                                | 1
        a detail changed               | UPDATE audit SET detail_json = '{"note":"another"}' WHERE number = 6                                             | 6
        a line deleted                 | DELETE FROM audit WHERE number = 4                                                                               | 4
        the first line deleted         | DELETE FROM audit WHERE number = 1                                                                               | 1
        a hash changed                 | UPDATE audit SET hash = 'x' WHERE number = 4                                                                     | 4
        two lines swapped              | UPDATE audit SET number = 99 WHERE number = 3; UPDATE audit SET number = 3 WHERE number = 4; UPDATE audit SET number = 4 WHERE number = 99 | 3
        a deletion closed up           | DELETE FROM audit WHERE number = 4; UPDATE audit SET number = number - 1 WHERE number = 5; UPDATE audit SET number = number - 1 WHERE number = 6 | 4
        a line inserted at the end     | INSERT INTO audit VALUES (7, '2031-03-04T22:00:00.000Z', 'x', 'y', 'z', '{}', (SELECT hash FROM audit WHERE number = 6), 'made up')        | 7
        a line inserted in the middle  | UPDATE audit SET number = 7 WHERE number = 6; UPDATE audit SET number = 6 WHERE number = 5; INSERT INTO audit VALUES (5, '2031-03-04T22:00:00.000Z', 'x', 'y', 'z', '{}', 'p', 'made up') | 5
        the last line cut off          | DELETE FROM audit WHERE number = 6                                                                               | 6
        the import's line cut off      | DELETE FROM audit WHERE number >= 1; DELETE FROM review_marks                                                    | 1
        """;

    [Fact]
    public async Task Every_tampering_is_found_and_its_line_named()
    {
        foreach (string line in Tampering.Split('\n'))
        {
            string[] cells = [.. line.Split('|').Select(c => c.Trim())];
            var place = stores.NewPlace();
            await using var store = await stores.OpenAsync(place);
            var night = Invented.Night();
            await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
            for (int i = 0; i < 5; i++) await store.Marks.AddAsync(night.Id, new ReviewMark("anna", Invented.Span(i, i + 5), MarkVerdict.Artefact, "seen"), Invented.Nurse, Ended);
            Assert.True((await store.Audit.VerifyAsync(Ended)).IsWhole);
            await stores.TamperAsync(place, WithoutGuards() + cells[1]);
            var verdict = await store.Audit.VerifyAsync(Ended);
            Assert.Equal($"{cells[0]}: {cells[2]}", $"{cells[0]}: {verdict.BrokenAt}");
            Assert.False(string.IsNullOrEmpty(verdict.Why));
        }
    }

    [Fact]
    public async Task Writers_at_the_same_time_do_not_fork_the_chain()
    {
        var place = stores.NewPlace();
        // Two stores on one place are two programs; several writers in each.
        await using var one = await stores.OpenAsync(place);
        await using var two = await stores.OpenAsync(place);
        var night = Invented.Night();
        await one.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
        await Task.WhenAll(Enumerable.Range(0, 8).Select(writer => Task.Run(async () =>
        {
            var store = writer % 2 == 0 ? one : two;
            for (int i = 0; i < 10; i++)
            {
                if (writer == 0 && i == 3) await store.Recordings.StoreAsync(Invented.Night("night 2", 50_000), Invented.Nurse, cancellation: Ended);
                else if (i % 2 == 0) await store.Marks.AddAsync(night.Id, new ReviewMark($"reviewer {writer}", Invented.Span(i, i + 1), MarkVerdict.Artefact), Invented.Nurse, Ended);
                else await store.Settings.AddAsync(SettingsHistoryTests.Entry($"{writer} {i}"), Invented.Nurse, Ended);
            }
        }, Ended)));
        var verdict = await two.Audit.VerifyAsync(Ended);
        Assert.Equal((81, true), (verdict.Entries, verdict.IsWhole));
        // Each line of settings names the one before it as what was in force.
        var history = (await one.Settings.HistoryAsync(Ended)).Reverse().ToList();
        for (int i = 1; i < history.Count; i++) Assert.Equal(history[i - 1].Content.SettingsJson, history[i].PreviousSettingsJson);
    }

    [Fact]
    public async Task The_same_recording_imported_twice_at_once_is_stored_once()
    {
        var place = stores.NewPlace();
        await using var one = await stores.OpenAsync(place);
        await using var two = await stores.OpenAsync(place);
        var outcomes = await Task.WhenAll(new[] { one, two, one, two }.Select(s => s.Recordings.StoreAsync(Invented.Night(rows: 30_000), Invented.Nurse, cancellation: Ended)));
        Assert.Single(outcomes, o => o == Recordings.StoreOutcome.Stored);
        Assert.Single(await one.Audit.LatestAsync(9, Ended));
    }

    [Fact]
    public async Task Readers_see_the_state_before_a_long_import_and_do_not_wait_for_its_end()
    {
        await using var store = await stores.NewAsync();
        await store.Recordings.StoreAsync(Invented.Night(), Invented.Nurse, cancellation: Ended);
        var inBetween = new InBetween(() => store.Recordings.FindAsync(new Recordings.RecordingFilter(), Ended));
        await store.Recordings.StoreAsync(Invented.Night("night 2", 30_000), Invented.Nurse, inBetween, Ended);
        Assert.Single(await (Task<IReadOnlyList<Recordings.StoredRecording>>)inBetween.Done!);
        Assert.Equal(2, (await store.Recordings.FindAsync(new Recordings.RecordingFilter(), Ended)).Count);
    }

    private string WithoutGuards() =>
        // The references to audit lines are not in the way of somebody who has the file.
        (stores is SqliteStores ? "PRAGMA foreign_keys = OFF;" : "ALTER TABLE review_marks DROP CONSTRAINT review_marks_number_fkey;")
        + stores.WithoutTriggers("audit", "audit_lines_stay", "audit_lines_stay_as_they_are") + stores.WithoutTriggers("review_marks", "marks_stay");
}

/// <summary>Does something else in the middle of an import, which waits for it.</summary>
internal sealed class InBetween(Func<Task> what) : IProgress<double>
{
    public Task? Done { get; private set; }

    public void Report(double value)
    {
        if (Done is not null || value < 0.5) return;
        Done = what();
        Done.Wait(TestContext.Current.CancellationToken);
    }
}

public sealed class AuditOnSqlite(SqliteStores stores) : AuditTests(stores), IClassFixture<SqliteStores>;

public sealed class AuditOnPostgres(PostgresStores stores) : AuditTests(stores), IClassFixture<PostgresStores>
{
    private readonly PostgresStores stores = stores;

    [Fact]
    public async Task Stores_in_two_schemas_of_one_database_do_not_wait_for_each_other()
    {
        await using var other = await stores.NewAsync();
        var place = stores.NewPlace();
        await using var made = await stores.OpenAsync(place);
        await using var database = stores.DatabaseOf(place);
        await database.ChangeAsync(
            async session =>
            {
                await database.LockAuditAsync(session);
                await database.LockMigrationsAsync(session);
                await other.Audit.NoteAsync("export.written", "x", "{}", Actor.Local, TestContext.Current.CancellationToken);
                await using var third = await stores.NewAsync();
                return 0;
            },
            TestContext.Current.CancellationToken);
        Assert.Single(await other.Audit.LatestAsync(9, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task A_mark_is_made_while_a_long_import_goes_on()
    {
        await using var store = await stores.NewAsync();
        var night = Invented.Night();
        await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: TestContext.Current.CancellationToken);
        var inBetween = new InBetween(() => store.Marks.AddAsync(night.Id, new ReviewMark("anna", Invented.Span(1, 2), MarkVerdict.Artefact), Invented.Nurse));
        await store.Recordings.StoreAsync(Invented.Night("night 2", 30_000), Invented.Nurse, inBetween, TestContext.Current.CancellationToken);
        Assert.Equal(["recording.imported", "mark.made", "recording.imported"], (await store.Audit.LatestAsync(9, TestContext.Current.CancellationToken)).Select(l => l.Action));
        Assert.True((await store.Audit.VerifyAsync(TestContext.Current.CancellationToken)).IsWhole);
    }
}
