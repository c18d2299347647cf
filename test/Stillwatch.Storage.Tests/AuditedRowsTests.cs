using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Tests.Inputs;
using Stillwatch.Storage.Tests.Servers;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Storage.Tests;

/// <summary>A whole chain is not enough: what stands in the tables has to be what its lines say.</summary>
public abstract class AuditedRowsTests(Stores stores)
{
    // Lines: 1, 2 imports; 3 described; 4 a mark; 5 a mark, taken back in 6; 7 a blind look; 8, 9 settings; 10 a report.
    // what was done | statement | the line that is named | in words
    private const string Tampering = """
        settings changed                  | UPDATE settings_history SET settings_json = '{"name":"quieter"}' WHERE number = 8                      | 8  | settings 8 is not what was written with that line (to)
        what was before, changed          | UPDATE settings_history SET previous_settings_json = NULL WHERE number = 9                            | 9  | (from)
        who accepted it, changed          | UPDATE settings_history SET accepted_by = 'somebody else' WHERE number = 9                             | 9  | (AcceptedBy)
        until when, changed               | UPDATE settings_history SET valid_until = '2041-06-01T08:00:00.0000000+02:00' WHERE number = 8         | 8  | (ValidUntil)
        an end taken away                 | UPDATE settings_history SET valid_until = NULL WHERE number = 8                                       | 8  | (ValidUntil)
        who wrote it and when, changed    | UPDATE settings_history SET written_by = 'x', written_at = '2031-01-01T00:00:00.000Z' WHERE number = 8 | 8  | (at, by)
        settings gone                     | DELETE FROM settings_history WHERE number = 9                                                         | 9  | settings 9 is gone
        two changes, the later one first  | DELETE FROM settings_history WHERE number = 9; UPDATE review_marks SET verdict = 'Artefact' WHERE number = 4 | 4 | (verdict)
        settings put in                   | INSERT INTO settings_history (number, scope, category, name, settings_json, why, accepted_by, written_at, written_by) VALUES (1, 'patient', 'adult', 'n', '{}', 'w', 'a', 'x', 'y') | 11 | no line speaks of settings 1
        a mark's verdict changed          | UPDATE review_marks SET verdict = 'Artefact' WHERE number = 4                                          | 4  | (verdict)
        a mark moved                      | UPDATE review_marks SET start_milliseconds = start_milliseconds + 1 WHERE number = 4                  | 4  | (startMilliseconds)
        a mark gone                       | DELETE FROM review_marks WHERE number = 4                                                             | 4  | mark 4 is gone
        a mark taken back                 | UPDATE review_marks SET withdrawn_at = '2031-03-04T22:00:00.000Z', withdrawn_by = 'anna' WHERE number = 4 | 11 | no line speaks of that mark 4 was taken back
        a withdrawal undone               | UPDATE review_marks SET withdrawn_at = NULL, withdrawn_by = NULL WHERE number = 5                     | 6  | (at, by)
        a blind look made longer          | UPDATE blind_looks SET end_milliseconds = 9000000 WHERE number = 7                                    | 7  | (endMilliseconds)
        a report and its hash changed     | UPDATE reports SET content = recordings.digest, sha256 = 'x' FROM recordings                          | 10 | report 10 is not what was written with that line (sha256, content)
        a report changed under its hash   | UPDATE reports SET content = recordings.digest FROM recordings                                        | 10 | (content)
        a report gone                     | DELETE FROM reports                                                                                   | 10 | report 10 is gone
        another patient                   | UPDATE recordings SET patient = 'P-18' WHERE patient = 'P-17'                                          | 3  | (to.Patient)
        another prescription              | UPDATE recordings SET target_low = '80' WHERE patient = 'P-17'                                         | 3  | (to.TargetLow)
        a description never said          | UPDATE recordings SET patient = 'P-18' WHERE patient = 'P-19'                                          | 2  | (to.Patient)
        another name                      | UPDATE recordings SET name = 'night 3' WHERE patient = 'P-19'                                          | 2  | (name)
        other facts, not in the line      | UPDATE channels SET label = 'SpO3' WHERE number = 0                                                    | 1  | what was read from the file
        other facts with their digest     | UPDATE recordings SET digest = (SELECT checksum FROM sample_chunks WHERE recording = recordings.id AND channel = 0 AND level = 0 AND chunk = 0) | 1 | (digest)
        another alarm log                 | UPDATE attachments SET sha256 = 'x'                                                                   | 1  | (attached)
        a recording gone                  | DELETE FROM recordings WHERE patient = 'P-19'                                                         | 2  | is gone
        """;

    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Every_row_that_was_changed_behind_a_whole_chain_is_found_and_its_line_named()
    {
        foreach (string line in Tampering.Split('\n'))
        {
            string[] cells = [.. line.Split('|').Select(c => c.Trim())];
            var place = stores.NewPlace();
            await using var store = await stores.OpenAsync(place);
            await FillAsync(store);
            Assert.Equal((10L, null), await Verdict(store));
            Assert.True(await stores.TamperAsync(place, WithoutGuards + cells[1]) != 0, cells[0]);
            var verdict = await store.Audit.VerifyAsync(Ended);
            Assert.Equal($"{cells[0]}: {cells[2]}", $"{cells[0]}: {verdict.BrokenAt}");
            Assert.Contains(cells[3], verdict.Why!, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task What_left_with_its_recording_is_not_missed_and_a_later_import_is_no_trouble()
    {
        await using var store = await stores.NewAsync();
        var night = await FillAsync(store);
        await store.Recordings.RemoveAsync(night.Id, "asked for", Invented.Nurse, Ended);
        Assert.Equal((11L, null), await Verdict(store));
        await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
        await store.Recordings.DescribeAsync(night.Id, new RecordingDescription { Patient = "half \ud83d, \0 and \\", TargetLow = 88.50m }, Invented.Nurse, Ended);
        long mark = await store.Marks.AddAsync(night.Id, new ReviewMark("ann\udd00a", Invented.Span(1, 2), MarkVerdict.Artefact, "\0"), Invented.Nurse, Ended);
        await store.Marks.WithdrawAsync(mark, Invented.Nurse, Ended);
        Assert.Equal((15L, null), await Verdict(store));
    }

    [Fact]
    public async Task A_line_of_an_early_program_that_said_less_still_fits()
    {
        var place = stores.NewPlace();
        await using var store = await stores.OpenAsync(place);
        await store.Recordings.StoreAsync(Invented.Night(), Invented.Nurse, cancellation: Ended);
        // As the first program wrote it: nothing of the description, nothing of what was attached; and its hash over that.
        var line = (await store.Audit.LatestAsync(1, Ended))[0];
        string detail = line.DetailJson[..line.DetailJson.IndexOf(",\"attached\"", StringComparison.Ordinal)] + "}";
        string hash = Audit.AuditChain.HashOf(new Audit.AuditRow
        {
            Number = 1,
            At = Sql.StoredTime.Of(line.At),
            ByActor = line.By.Name,
            Action = line.Action,
            Subject = line.Subject,
            DetailJson = detail,
            PreviousHash = line.PreviousHash,
            Hash = "",
        });
        await stores.TamperAsync(place, $"{WithoutGuards}UPDATE audit SET detail_json = '{detail}', hash = '{hash}'");
        Assert.Equal((1L, null), await Verdict(store));
    }

    private static async Task<(long Entries, string? Why)> Verdict(WorkbenchStore store)
    {
        var verdict = await store.Audit.VerifyAsync(Ended);
        return (verdict.Entries, verdict.Why);
    }

    private static async Task<NewRecording> FillAsync(WorkbenchStore store)
    {
        var night = Invented.Night();
        await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
        await store.Recordings.StoreAsync(Invented.Night("night 2", description: new RecordingDescription { Patient = "P-19" }) with { Attachments = [] }, Invented.Nurse, cancellation: Ended);
        await store.Recordings.DescribeAsync(night.Id, new RecordingDescription { Patient = "P-17", TargetLow = 88.5m, SettingsInForceJson = "{}" }, Actor.Local, Ended);
        await store.Marks.AddAsync(night.Id, new ReviewMark("anna", Invented.Span(1, 2), MarkVerdict.RealAndSignificant, "seen"), Invented.Nurse, Ended);
        long back = await store.Marks.AddAsync(night.Id, new ReviewMark("bo", Invented.Span(3, 4), MarkVerdict.Artefact), Invented.Nurse, Ended);
        await store.Marks.WithdrawAsync(back, Actor.Local, Ended);
        await store.Marks.AddBlindLookAsync(night.Id, "anna", Invented.Span(0, 60), Invented.Nurse, Ended);
        await store.Settings.AddAsync(SettingsHistoryTests.Entry("first"), Actor.Local, Ended);
        await store.Settings.AddAsync(SettingsHistoryTests.Entry("second") with { ValidUntil = null }, Invented.Nurse, Ended);
        await store.Reports.AddAsync(new Reports.NewReport("decision", "Ward 3", "text/html", "handed over"u8.ToArray()), Invented.Nurse, Ended);
        return night;
    }

    private string WithoutGuards =>
        (stores is SqliteStores ? "PRAGMA foreign_keys = ON;" : "ALTER TABLE settings_history DROP CONSTRAINT settings_history_number_fkey;")
        + stores.WithoutTriggers("audit", "audit_lines_stay_as_they_are") + stores.WithoutTriggers("settings_history", "settings_lines_stay", "settings_lines_stay_as_they_are")
        + stores.WithoutTriggers("review_marks", "marks_stay", "marks_stay_as_they_are") + stores.WithoutTriggers("blind_looks", "blind_looks_stay_as_they_are")
        + stores.WithoutTriggers("reports", "reports_stay", "reports_stay_as_they_are");
}

public sealed class AuditedRowsOnSqlite(SqliteStores stores) : AuditedRowsTests(stores), IClassFixture<SqliteStores>;

public sealed class AuditedRowsOnPostgres(PostgresStores stores) : AuditedRowsTests(stores), IClassFixture<PostgresStores>;
