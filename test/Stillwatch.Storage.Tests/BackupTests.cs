using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using Stillwatch.Storage.Backup;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Tests.Inputs;
using Stillwatch.Storage.Tests.Servers;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Storage.Tests;

/// <summary>One archive for both databases: what goes in comes out, of the same kind or of the other, and nothing comes out of a damaged one.</summary>
public sealed class BackupTests(SqliteStores sqlite, PostgresStores postgres) : IClassFixture<SqliteStores>, IClassFixture<PostgresStores>, IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("stillwatch-backup-").FullName;

    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    private string NewFile => Path.Combine(folder, Path.GetRandomFileName() + ".zip");

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Theory]
    [InlineData("sqlite", "sqlite")]
    [InlineData("sqlite", "postgres")]
    [InlineData("postgres", "sqlite")]
    [InlineData("postgres", "postgres")]
    public async Task A_store_moves_whole_from_one_database_to_another(string from, string to)
    {
        await using var source = await Of(from).NewAsync();
        await FillAsync(source);
        var lines = await source.Audit.LatestAsync(100, Ended);
        string file = NewFile;
        var written = await source.BackupAsync(file, Invented.Nurse, Ended);
        Assert.Equal((2L, 2L, 2L, 1L, (long)lines.Count, lines[0].Hash), (written.Recordings, written.Marks, written.Settings, written.Reports, written.AuditEntries, written.AuditLastHash));
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(await File.ReadAllBytesAsync(file, Ended))), written.Sha256);
        Assert.Equal([file], Directory.GetFiles(folder));

        var place = Of(to).NewPlace();
        Assert.Equal(written, await Of(to).RestoreAsync(place, file));
        await using var target = await Of(to).OpenAsync(place);
        var recordings = await source.Recordings.FindAsync(new RecordingFilter(), Ended);
        Assert.Equal(recordings.Select(r => r.Description), (await target.Recordings.FindAsync(new RecordingFilter(), Ended)).Select(r => r.Description));
        foreach (var recording in recordings)
        {
            SameRecording.Assert(await source.Recordings.OpenAsync(recording.Id, cancellation: Ended), await target.Recordings.OpenAsync(recording.Id, cancellation: Ended));
            Assert.Equal(await source.Marks.OfAsync(recording.Id, Ended), await target.Marks.OfAsync(recording.Id, Ended));
            Assert.Equal(await source.Marks.BlindLooksAsync(recording.Id, Ended), await target.Marks.BlindLooksAsync(recording.Id, Ended));
        }

        Assert.Equal(await source.Settings.HistoryAsync(Ended), await target.Settings.HistoryAsync(Ended));
        Assert.Equal(await source.Reports.ListAsync(Ended), await target.Reports.ListAsync(Ended));
        var report = (await source.Reports.ListAsync(Ended)).Single();
        Assert.Equal(await source.Reports.ContentAsync(report.Number, Ended), await target.Reports.ContentAsync(report.Number, Ended));
        // The audit goes on where the backup was made, with a line of its own.
        Assert.Equal(["store.restored", .. lines.Select(l => l.Action)], (await target.Audit.LatestAsync(100, Ended)).Select(l => l.Action));
        Assert.Equal(lines, (await target.Audit.LatestAsync(100, Ended)).Skip(1));
        Assert.Equal("store.backedup", (await source.Audit.LatestAsync(1, Ended))[0].Action);
        Assert.True((await target.Audit.VerifyAsync(Ended)).IsWhole);
        // And it is a store to work with.
        await target.Marks.AddAsync(recordings[0].Id, new ReviewMark("anna", Invented.Span(1, 2), MarkVerdict.Artefact), Actor.Local, Ended);
        Assert.True((await target.Audit.VerifyAsync(Ended)).IsWhole);
    }

    [Fact]
    public async Task A_cancellation_that_comes_when_the_archive_has_its_name_leaves_both_the_archive_and_its_line()
    {
        var clock = new CancellingClock();
        await using var store = await WorkbenchStore.OpenAsync(sqlite.NewPlace(), clock, Ended);
        using var cancelling = CancellationTokenSource.CreateLinkedTokenSource(Ended);
        // The clock is asked once for the manifest, and then for the line.
        clock.CancelAt(2, cancelling);
        string file = NewFile;
        await store.BackupAsync(file, Actor.Local, cancelling.Token);
        Assert.True(File.Exists(file));
        Assert.Equal("store.backedup", (await store.Audit.LatestAsync(1, Ended)).Single().Action);
    }

    [Fact]
    public async Task A_backup_that_another_one_is_in_the_way_of_leaves_that_one_alone()
    {
        await using var store = await sqlite.NewAsync();
        string file = NewFile, draft = file + ".part";
        await using (var other = new FileStream(draft, FileMode.Create, FileAccess.Write, FileShare.None))
        {
            await Assert.ThrowsAsync<StoreException>(() => store.BackupAsync(file, Actor.Local, Ended));
            Assert.True(File.Exists(draft));
        }
    }

    [Fact]
    public async Task An_empty_store_is_backed_up_too()
    {
        await using var source = await sqlite.NewAsync();
        string file = NewFile;
        await source.BackupAsync(file, Actor.Local, Ended);
        Assert.Equal(0, (await sqlite.RestoreAsync(sqlite.NewPlace(), file)).Recordings);
    }

    [Theory]
    [InlineData("sqlite")]
    [InlineData("postgres")]
    public async Task A_store_that_holds_something_is_not_restored_into(string kind)
    {
        await using var source = await Of(kind).NewAsync();
        await FillAsync(source);
        string file = NewFile;
        await source.BackupAsync(file, Actor.Local, Ended);
        var place = Of(kind).NewPlace();
        await using var target = await Of(kind).OpenAsync(place);
        await target.Audit.NoteAsync("export.written", "x", "{}", Actor.Local, Ended);
        var e = await Assert.ThrowsAsync<StoreException>(() => Of(kind).RestoreAsync(place, file));
        Assert.Contains("holds something already", e.Found);
        Assert.Empty(await target.Recordings.FindAsync(new RecordingFilter(), Ended));
        await Assert.ThrowsAsync<StoreException>(() => source.BackupAsync(file, Actor.Local, Ended));
        await Assert.ThrowsAsync<StoreException>(() => source.BackupAsync(Path.Combine(folder, "no such folder", "x.zip"), Actor.Local, Ended));
    }

    // what was done | to which part | how | what is said
    private const string Damages = """
        not an archive            |                            | cut      | does not hold together
        no manifest               | manifest.json              | gone     | no manifest
        a manifest that is none   | manifest.json              | other    | does not hold together
        of a newer format         | manifest.json              | newer    | newer Stillwatch
        of no version             | manifest.json              | unversioned | names no version
        a part that is none       | manifest.json              | partless | holds other tables
        a table gone              | tables/review_marks.ndjson | gone     | review_marks is missing
        a row gone                | tables/review_marks.ndjson | shorter  | review_marks is not what the manifest says
        a row twice               | tables/review_marks.ndjson | longer   | more rows
        a value changed           | tables/review_marks.ndjson | changed  | review_marks is not what the manifest says
        a row that is none        | tables/review_marks.ndjson | other    | a line of review_marks that cannot be read
        a row without an end      | tables/review_marks.ndjson | unended  | without an end
        the audit made to fit     | tables/audit.ndjson        | refitted | whose audit does not fit
        a mark made to fit        | tables/review_marks.ndjson | refitted | mark 3 is not what was written with that line (reviewer)
        settings made to fit      | tables/settings_history.ndjson | refitted | is not what was written with that line (AcceptedBy)
        more unpacked than said   | tables/reports.ndjson      | blown up | holds more than the manifest says
        """;

    [Fact]
    public async Task Nothing_is_restored_from_an_archive_that_was_damaged_or_changed()
    {
        await using var source = await sqlite.NewAsync();
        await FillAsync(source);
        string whole = NewFile;
        await source.BackupAsync(whole, Actor.Local, Ended);
        foreach (string line in Damages.Split('\n'))
        {
            string[] cells = [.. line.Split('|').Select(c => c.Trim())];
            string file = NewFile;
            File.Copy(whole, file);
            Damage(file, cells[1], cells[2]);
            var place = sqlite.NewPlace();
            var e = await Record.ExceptionAsync(() => sqlite.RestoreAsync(place, file));
            Assert.True(e is StoreException && e.Message.Contains(cells[3], StringComparison.Ordinal), $"{cells[0]}: {e?.Message ?? "went through"}");
            await using var target = await sqlite.OpenAsync(place);
            Assert.Empty(await target.Recordings.FindAsync(new RecordingFilter(), Ended));
            Assert.Empty(await target.Audit.LatestAsync(1, Ended));
        }
    }

    // Each line: what was done to the first recording, the second stays whole.
    [Theory]
    [InlineData("UPDATE sample_chunks SET checksum = content WHERE channel = 1 AND level = 0 AND chunk = 2 AND recording = 'ID'")]
    [InlineData("UPDATE sample_chunks SET first_milliseconds = 7 WHERE channel = 0 AND level = 1 AND recording = 'ID'")]
    [InlineData("UPDATE time_chunks SET row_count = 7")]
    [InlineData("UPDATE annotation_chunks SET chunk = 7 WHERE recording = 'ID'")]
    [InlineData("UPDATE channels SET kind = 'SpO3' WHERE number = 0 AND recording = 'ID'")]
    public async Task What_the_disk_did_to_one_recording_is_counted_and_goes_along(string damage)
    {
        foreach (var kind in new Stores[] { sqlite, postgres })
        {
            var place = kind.NewPlace();
            await using var store = await kind.OpenAsync(place);
            await FillAsync(store);
            Assert.Equal(0, (await store.BackupAsync(NewFile, Actor.Local, Ended)).DamagedRecordings);
            Assert.True(await kind.TamperAsync(place, damage.Replace("ID", RecordingId.OfIdentity("night 1.csv").Text, StringComparison.Ordinal)) > 0);
            string file = NewFile;
            Assert.Equal(1, (await store.BackupAsync(file, Actor.Local, Ended)).DamagedRecordings);
            Assert.Equal(1, (await kind.RestoreAsync(kind.NewPlace(), file)).DamagedRecordings);
        }
    }

    [Fact]
    public async Task A_broken_audit_is_not_backed_up_as_if_it_were_whole()
    {
        var place = sqlite.NewPlace();
        await using var store = await sqlite.OpenAsync(place);
        await FillAsync(store);
        await sqlite.TamperAsync(place, sqlite.WithoutTriggers("audit", "audit_lines_stay_as_they_are") + "UPDATE audit SET by_actor = 'x' WHERE number = 2");
        string file = NewFile;
        var e = await Assert.ThrowsAsync<StoreException>(() => store.BackupAsync(file, Actor.Local, Ended));
        Assert.Contains("line 2", e.Found);
        Assert.Empty(Directory.GetFiles(folder));
    }

    [Theory]
    [InlineData("sqlite", "SELECT name FROM sqlite_schema WHERE type = 'table'")]
    [InlineData("postgres", "SELECT table_name FROM information_schema.tables WHERE table_schema = current_schema()")]
    public async Task A_backup_holds_every_column_of_every_table(string kind, string tables)
    {
        var place = Of(kind).NewPlace();
        await using var store = await Of(kind).OpenAsync(place);
        await using var connection = await Of(kind).BehindTheBackOfAsync(place);
        async Task<IReadOnlyList<string>> Names(string sql)
        {
            await using var command = connection.CreateCommand();
            command.CommandText = sql;
            await using var reader = await command.ExecuteReaderAsync(Ended);
            var names = new List<string>();
            while (await reader.ReadAsync(Ended)) names.Add(reader.GetString(0));
            return [.. names.Order(StringComparer.Ordinal)];
        }

        Assert.Equal(StoreTable.All.Select(t => t.Name).Append("store_version").Order(StringComparer.Ordinal), await Names(tables));
        foreach (var table in StoreTable.All)
        {
            string columns = kind == "sqlite" ? $"SELECT name FROM pragma_table_info('{table.Name}')" : $"SELECT column_name FROM information_schema.columns WHERE table_schema = current_schema() AND table_name = '{table.Name}'";
            Assert.Equal(table.Columns.Select(c => c.Name).Order(StringComparer.Ordinal), await Names(columns));
        }
    }

    private Stores Of(string kind) => kind == "sqlite" ? sqlite : postgres;

    private static async Task FillAsync(WorkbenchStore store)
    {
        var first = Invented.Night("night 1.csv", 20_000, new RecordingDescription { Patient = "P-17", TargetLow = 88.5m, Note = "ärztlich \0 \\ \"quoted\"\nsecond line" });
        var second = Importless("night 2.csv");
        await store.Recordings.StoreAsync(first, Invented.Nurse, cancellation: Ended);
        await store.Recordings.StoreAsync(second, Invented.Nurse, cancellation: Ended);
        long mark = await store.Marks.AddAsync(first.Id, new ReviewMark("anna", Invented.Span(3, 9), MarkVerdict.Artefact, "note"), Invented.Nurse, Ended);
        await store.Marks.AddAsync(second.Id, new ReviewMark("bo", Invented.Span(3, 3), MarkVerdict.CannotTell), Invented.Nurse, Ended);
        await store.Marks.WithdrawAsync(mark, Actor.Local, Ended);
        await store.Marks.AddBlindLookAsync(first.Id, "anna", Invented.Span(0, 60), Invented.Nurse, Ended);
        await store.Settings.AddAsync(SettingsHistoryTests.Entry("first"), Actor.Local, Ended);
        await store.Settings.AddAsync(SettingsHistoryTests.Entry("second"), Actor.Local, Ended);
        await store.Reports.AddAsync(new Reports.NewReport("decision", "Ward 3", "text/html", [.. Enumerable.Range(0, 200_000).Select(i => (byte)(i % 251))]), Actor.Local, Ended);
    }

    // Uneven times, a waveform in counts, no attachments.
    private static NewRecording Importless(string name)
    {
        var builder = new Time.TimeAxis.Builder();
        for (int i = 0; i < 9_000; i++) builder.Add(i * 40 + i % 7);
        var pleth = new Signals.Channel("Pleth", Signals.ChannelKind.Pleth, "", builder.Build(), Signals.CountColumn.Of(Signals.Calibration.OfGain(-12.5m, 3), Enumerable.Range(0, 9_000).Select(i => i % 50 == 0 ? (int?)null : i % 400)));
        var night = Invented.Night(name);
        return night with { Recording = night.Recording with { Channels = [.. night.Recording.Channels, pleth] }, Attachments = [] };
    }

    private static void Damage(string file, string part, string how)
    {
        if (how == "cut")
        {
            using var stream = new FileStream(file, FileMode.Open);
            stream.SetLength(stream.Length / 2);
            return;
        }

        using var archive = ZipFile.Open(file, ZipArchiveMode.Update);
        string text = Replace(archive, part, old =>
        {
            string[] rows = old.Split('\n', StringSplitOptions.RemoveEmptyEntries);
            return how switch
            {
                "gone" => null,
                "other" => "nothing of the kind\n",
                "newer" => old.Replace("stillwatch.backup/1", "stillwatch.backup/2", StringComparison.Ordinal),
                "unversioned" => old.Replace("\"storeVersion\": ", "\"storeVersion\": -", StringComparison.Ordinal),
                "partless" => old.Replace("\"parts\": [", "\"parts\": [null,", StringComparison.Ordinal),
                "shorter" => string.Concat(rows.SkipLast(1).Select(r => r + "\n")),
                "longer" => old + rows[^1].Replace($"[{rows[^1].Split(',')[0][1..]},", "[1,", StringComparison.Ordinal) + "\n",
                "changed" => old.Replace("anna", "otto", StringComparison.Ordinal),
                "unended" => old.TrimEnd('\n'),
                "blown up" => rows[0][..^2] + new string('A', 40_000_000) + "\"]\n",
                _ => part.Contains("audit", StringComparison.Ordinal) ? old.Replace("nurse on nights", "nurse on lights", StringComparison.Ordinal)
                    : old.Replace("anna", "otto", StringComparison.Ordinal).Replace("senior nurse", "deputy nurse", StringComparison.Ordinal),
            };
        });
        if (how != "refitted") return;
        // Whoever can change a part can change its hash in the manifest; not the chain.
        byte[] bytes = Encoding.UTF8.GetBytes(text);
        Replace(archive, BackupManifest.EntryName, old =>
        {
            var manifest = BackupManifest.Of(Encoding.UTF8.GetBytes(old));
            return Encoding.UTF8.GetString((manifest with { Parts = [.. manifest.Parts.Select(p => BackupPart.EntryNameOf(p.Table) == part ? p with { Sha256 = Convert.ToHexStringLower(SHA256.HashData(bytes)), Bytes = bytes.Length } : p)] }).ToBytes());
        });
    }

    private static string Replace(ZipArchive archive, string part, Func<string, string?> change)
    {
        var entry = archive.GetEntry(part)!;
        string? text;
        using (var reader = new StreamReader(entry.Open())) text = change(reader.ReadToEnd());
        entry.Delete();
        if (text is null) return "";
        using var writer = new StreamWriter(archive.CreateEntry(part).Open(), new UTF8Encoding(false));
        writer.Write(text);
        return text;
    }
}
