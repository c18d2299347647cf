using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Tests.Inputs;
using Stillwatch.Storage.Tests.Servers;
using Stillwatch.Time;

namespace Stillwatch.Storage.Tests;

/// <summary>What was changed behind the store's back, or by a failing disk, is reported and never shown as if it were measured.</summary>
public abstract class DamageTests(Stores stores)
{
    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    // what was done | statement | who notices: opening, or drawing too
    private const string Damages = """
        a byte of a chunk of samples         | UPDATE sample_chunks SET content = @turned WHERE channel = 0 AND level = 0 AND chunk = 1   | open draw
        a byte of an entry chunk             | UPDATE sample_chunks SET content = @turned WHERE channel = 0 AND level = 1 AND chunk = 0   | overview
        a chunk cut short                    | UPDATE sample_chunks SET content = @short WHERE channel = 0 AND level = 0 AND chunk = 1    | open draw
        a chunk emptied                      | UPDATE sample_chunks SET content = @empty WHERE channel = 0 AND level = 0 AND chunk = 1    | open draw
        another channel's chunk in its place | UPDATE sample_chunks SET content = @other, checksum = @otherchecksum WHERE channel = 0 AND level = 0 AND chunk = 1 | open draw
        a chunk gone                         | DELETE FROM sample_chunks WHERE channel = 0 AND level = 0 AND chunk = 1                    | open
        the last chunk gone                  | DELETE FROM sample_chunks WHERE channel = 0 AND level = 0 AND chunk = 2                    | open
        the times of a chunk                 | UPDATE time_chunks SET first_milliseconds = first_milliseconds + 1 WHERE chunk = 1         | open draw
        the times of a chunk gone            | DELETE FROM time_chunks WHERE chunk = 1                                                    | open draw
        annotations gone                     | DELETE FROM annotation_chunks                                                              | open
        the label of a channel               | UPDATE channels SET label = 'SpO3' WHERE number = 0                                        | open draw
        the period of an axis                | UPDATE time_axes SET period_milliseconds = 500                                             | open draw
        the start of the recording           | UPDATE recordings SET start_text = '2031-03-05T22:00:00.0000000'                           | open draw
        """;

    [Fact]
    public async Task Every_damage_is_found_before_a_wrong_value_is_shown()
    {
        foreach (string line in Damages.Split('\n'))
        {
            string[] cells = [.. line.Split('|').Select(c => c.Trim())];
            var place = stores.NewPlace();
            await using var store = await stores.OpenAsync(place);
            var night = Uneven();
            await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
            var middle = new SampleTime(10_000_000);
            Func<Task> open = () => store.Recordings.OpenAsync(night.Id, cancellation: Ended);
            Func<Task> draw = () => store.Recordings.WindowAsync(night.Id, 0, middle, middle + Duration.FromSeconds(60), 600, Ended);
            Func<Task> overview = () => store.Recordings.WindowAsync(night.Id, 0, default, new SampleTime(20_000_000), 20, Ended);
            foreach (var call in new[] { open, draw, overview }) await call();
            Assert.True(await DamageAsync(place, cells[1]) > 0, $"{cells[0]}: the statement changed nothing");
            foreach (var (name, call) in new[] { ("open", open), ("draw", draw), ("overview", overview) })
            {
                if (!cells[2].Split(' ').Contains(name)) continue;
                var e = await Record.ExceptionAsync(call);
                Assert.True(e is StoreException { Found: var found } && found.StartsWith("a damaged recording", StringComparison.Ordinal), $"{cells[0]}, {name}: {e?.Message ?? "nothing was noticed"}");
            }
        }
    }

    // what was done | statement
    private const string Heads = """
        a start that is no time      | UPDATE recordings SET start_text = 'yesterday' WHERE name = 'bad'
        a channel of no kind         | UPDATE channels SET kind = 'Breath' WHERE recording = (SELECT id FROM recordings WHERE name = 'bad')
        a target that is no number   | UPDATE recordings SET target_low = 'low' WHERE name = 'bad'
        an import at no time         | UPDATE recordings SET imported_at = '' WHERE name = 'bad'
        """;

    [Fact]
    public async Task A_recording_of_which_nothing_can_be_read_hides_no_other_is_named_and_can_be_taken_out()
    {
        foreach (string line in Heads.Split('\n'))
        {
            string[] cells = [.. line.Split('|').Select(c => c.Trim())];
            var place = stores.NewPlace();
            await using var store = await stores.OpenAsync(place);
            var good = Invented.Night("good");
            var bad = Invented.Night("bad");
            foreach (var one in new[] { good, bad }) await store.Recordings.StoreAsync(one, Invented.Nurse, cancellation: Ended);
            Assert.Empty((await store.Recordings.LookAsync(Ended)).Damaged);
            await stores.TamperAsync(place, cells[1]);
            Assert.Equal([good.Id], (await store.Recordings.FindAsync(new RecordingFilter(), Ended)).Select(r => r.Id));
            var damaged = Assert.Single((await store.Recordings.LookAsync(Ended)).Damaged);
            Assert.Equal((bad.Id, "bad"), (damaged.Id!.Value, damaged.Name));
            Assert.StartsWith("a damaged recording: ", damaged.Why);
            await store.Recordings.RemoveAsync(damaged.Id.Value, "it could not be read", Actor.Local, Ended);
            Assert.Empty((await store.Recordings.LookAsync(Ended)).Damaged);
            Assert.Equal(StoreOutcome.Stored, await store.Recordings.StoreAsync(bad, Invented.Nurse, cancellation: Ended)); // its file may come again
            Assert.Equal(2, (await store.Recordings.FindAsync(new RecordingFilter(), Ended)).Count);
        }
    }

    [Fact]
    public async Task An_attachment_and_a_report_that_were_changed_are_not_handed_out()
    {
        var place = stores.NewPlace();
        await using var store = await stores.OpenAsync(place);
        var night = Invented.Night();
        await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
        var report = await store.Reports.AddAsync(new Reports.NewReport("recording", "Night 1", "text/html", "whole"u8.ToArray()), Invented.Nurse, Ended);
        await stores.TamperAsync(place, "UPDATE attachments SET sha256 = 'x';" + stores.WithoutTriggers("reports", "reports_stay_as_they_are") + "UPDATE reports SET sha256 = 'x'");
        await Assert.ThrowsAsync<StoreException>(() => store.Recordings.AttachmentsAsync(night.Id, Ended));
        await Assert.ThrowsAsync<StoreException>(() => store.Reports.ContentAsync(report.Number, Ended));
    }

    // Even times are worked out and need no chunk of their own, so that nothing but the chunk of samples says how many rows it has.
    [Theory]
    [InlineData("UPDATE sample_chunks SET row_count = 8193 WHERE level = 0 AND chunk = 0")]
    [InlineData("UPDATE sample_chunks SET row_count = 2147483647 WHERE level = 0 AND chunk = 0")]
    [InlineData("UPDATE sample_chunks SET row_count = -1 WHERE level = 0 AND chunk = 0")]
    public async Task A_count_beyond_any_chunk_is_found_before_it_is_used(string sql)
    {
        var place = stores.NewPlace();
        await using var store = await stores.OpenAsync(place);
        var night = Invented.Night(rows: 20_000);
        await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
        await stores.TamperAsync(place, sql);
        await Assert.ThrowsAsync<StoreException>(() => store.Recordings.WindowAsync(night.Id, 0, default, new SampleTime(60_000), 600, Ended));
        await Assert.ThrowsAsync<StoreException>(() => store.Recordings.OpenAsync(night.Id, cancellation: Ended));
    }

    // Whoever takes the trouble to make the digest fit again, in a backup that somebody restores, must not be able to keep the program busy without end.
    [Theory]
    [InlineData("UPDATE channels SET entry_milliseconds = 0, levels = 2147483647")]
    [InlineData("UPDATE channels SET entry_milliseconds = -64000, levels = 2147483647")]
    [InlineData("UPDATE channels SET entry_milliseconds = 1, levels = -1")]
    public async Task Levels_that_no_recording_has_are_refused_even_where_the_digest_fits(string sql)
    {
        var place = stores.NewPlace();
        await using var store = await stores.OpenAsync(place);
        var night = Invented.Night(rows: 20_000);
        await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
        await stores.TamperAsync(place, sql);
        await using (var database = stores.DatabaseOf(place))
        {
            await database.ChangeAsync(
                async session =>
                {
                    var head = await RecordingStore.HeadAsync(session, night.Id);
                    return await session.RunTextAsync("UPDATE recordings SET digest = @Digest", new { Digest = head!.DigestOfFacts() });
                },
                Ended);
        }

        await Assert.ThrowsAsync<StoreException>(() => store.Recordings.WindowAsync(night.Id, 0, default, new SampleTime(20_000_000), 20, Ended));
    }

    // what was done | statement | by which call it is met
    private const string Rows = """
        a time that is none in the audit  | UPDATE audit SET at = 'yesterday'                                 | audit
        a text that nobody wrote so       | UPDATE audit SET subject = 'a\x'                                  | audit
        an end that is none               | UPDATE settings_history SET valid_until = 'soon'                  | settings
        a verdict that is none            | UPDATE review_marks SET verdict = 'Perhaps'                       | marks
        a mark that ends before it starts | UPDATE review_marks SET end_milliseconds = -1                     | marks
        a blind look of nowhen            | UPDATE blind_looks SET looked_at = ''                             | looks
        a report of nowhen                | UPDATE reports SET made_at = 'x'                                  | reports
        """;

    [Fact]
    public async Task A_row_that_cannot_be_read_is_told_in_words()
    {
        foreach (string line in Rows.Split('\n'))
        {
            string[] cells = [.. line.Split('|').Select(c => c.Trim())];
            var place = stores.NewPlace();
            await using var store = await stores.OpenAsync(place);
            var night = Invented.Night();
            await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
            await store.Marks.AddAsync(night.Id, new Stillwatch.Tuning.MustCatch.ReviewMark("anna", Invented.Span(1, 2), Stillwatch.Tuning.MustCatch.MarkVerdict.Artefact), Invented.Nurse, Ended);
            await store.Marks.AddBlindLookAsync(night.Id, "anna", Invented.Span(0, 60), Invented.Nurse, Ended);
            await store.Settings.AddAsync(SettingsHistoryTests.Entry("first"), Invented.Nurse, Ended);
            await store.Reports.AddAsync(new Reports.NewReport("recording", "Night 1", "text/html", [1]), Invented.Nurse, Ended);
            await stores.TamperAsync(place, stores.WithoutTriggers("audit", "audit_lines_stay_as_they_are") + stores.WithoutTriggers("settings_history", "settings_lines_stay_as_they_are")
                + stores.WithoutTriggers("review_marks", "marks_stay_as_they_are") + stores.WithoutTriggers("blind_looks", "blind_looks_stay_as_they_are")
                + stores.WithoutTriggers("reports", "reports_stay_as_they_are") + cells[1]);
            var e = await Record.ExceptionAsync(() => cells[2] switch
            {
                "audit" => store.Audit.LatestAsync(9, Ended),
                "settings" => store.Settings.HistoryAsync(Ended),
                "marks" => store.Marks.OfAsync(night.Id, Ended),
                "looks" => store.Marks.BlindLooksAsync(night.Id, Ended),
                _ => store.Reports.ListAsync(Ended),
            });
            Assert.True(e is StoreException && e.Message.Contains("cannot have been written so", StringComparison.Ordinal), $"{cells[0]}: {e?.ToString() ?? "nothing was noticed"}");
            Assert.False((await store.Audit.VerifyAsync(Ended)).IsWhole, cells[0]);
        }
    }

    // 20 000 rows at uneven times: three chunks, two channels on one axis.
    private static NewRecording Uneven()
    {
        var night = Invented.Night(rows: 20_000);
        var builder = new TimeAxis.Builder();
        for (int i = 0; i < 20_000; i++) builder.Add(i * 1000 + i % 3);
        var times = builder.Build();
        return night with { Recording = night.Recording with { Channels = [.. night.Recording.Channels.Select(c => new Signals.Channel(c.Label, c.Kind, c.Unit, times, c.Values))] } };
    }

    private async Task<int> DamageAsync(StorePlace place, string sql)
    {
        await using var connection = await stores.BehindTheBackOfAsync(place);
        await using var command = connection.CreateCommand();
        command.CommandText = "SELECT content FROM sample_chunks WHERE channel = 0 AND chunk = " + (sql.Contains("level = 1", StringComparison.Ordinal) ? "0 AND level = 1" : "1 AND level = 0");
        byte[] content = (byte[])(await command.ExecuteScalarAsync(Ended))!;
        byte[] turned = [.. content];
        turned[turned.Length / 2] ^= 1;
        command.CommandText = "SELECT content FROM sample_chunks WHERE channel = 1 AND level = 0 AND chunk = 1";
        byte[] other = (byte[])(await command.ExecuteScalarAsync(Ended))!;
        command.CommandText = "SELECT checksum FROM sample_chunks WHERE channel = 1 AND level = 0 AND chunk = 1";
        byte[] otherChecksum = (byte[])(await command.ExecuteScalarAsync(Ended))!;
        foreach (var (name, value) in new[] { ("@turned", turned), ("@short", content[..^1]), ("@empty", []), ("@other", other), ("@otherchecksum", otherChecksum) })
        {
            if (!sql.Contains(name, StringComparison.Ordinal)) continue;
            var parameter = command.CreateParameter();
            (parameter.ParameterName, parameter.Value) = (name, value);
            command.Parameters.Add(parameter);
        }

        command.CommandText = sql;
        return await command.ExecuteNonQueryAsync(Ended);
    }
}

public sealed class DamageOnSqlite(SqliteStores stores) : DamageTests(stores), IClassFixture<SqliteStores>;

public sealed class DamageOnPostgres(PostgresStores stores) : DamageTests(stores), IClassFixture<PostgresStores>;
