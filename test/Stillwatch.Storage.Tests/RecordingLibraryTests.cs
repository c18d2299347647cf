using Stillwatch.Signals;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Tests.Inputs;
using Stillwatch.Storage.Tests.Servers;
using Stillwatch.Time;

namespace Stillwatch.Storage.Tests;

public abstract class RecordingLibraryTests(Stores stores)
{
    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_stored_recording_says_of_itself_what_its_reader_said()
    {
        await using var store = await stores.NewAsync();
        var said = new RecordingDescription
        {
            Patient = "P-17",
            Category = "adult",
            Unit = "Ward 3",
            Oxygen = "oxygen",
            SourceAveragingSeconds = 8.0m,
            TargetLow = 88,
            TargetHigh = 92.5m,
            SettingsInForceJson = "{\"format\":\"stillwatch.settings/1\"}",
            Note = "after theatre",
        };
        var night = Invented.Night(description: said) with { ExportOf = "an earlier one" };
        await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
        var found = Assert.IsType<StoredRecording>(await store.Recordings.GetAsync(night.Id, Ended));
        Assert.Equal(night.Recording.Name, found.Name);
        Assert.Equal(night.Recording.Start, found.Start);
        Assert.Equal(night.Recording.SourceAveraging, found.SourceAveraging);
        Assert.Equal(night.Files, found.Files);
        Assert.Equal(night.Format, found.Format);
        Assert.Equal(night.Issues, found.Issues);
        Assert.Equal(said, found.Description);
        Assert.Equal("an earlier one", found.ExportOf);
        Assert.True(found.IsInvented);
        Assert.Equal(Invented.Nurse, found.ImportedBy);
        Assert.True(found.ImportedAt > TestClock.Start);
        Assert.Equal(
            [new StoredChannel(0, "SpO2", ChannelKind.SpO2, "%", 300, default, Invented.At(300), Duration.FromSeconds(1)), new StoredChannel(1, "Pulse", ChannelKind.PulseRate, "/min", 300, default, Invented.At(300), Duration.FromSeconds(1))],
            found.Channels);
        Assert.Equal(Invented.Span(0, 300), found.Span);
        var attachment = Assert.Single(await store.Recordings.AttachmentsAsync(night.Id, Ended));
        Assert.Equal(("alarm log", "alarms.csv"), (attachment.Role, attachment.Name));
        Assert.Equal(night.Attachments[0].Content, attachment.Content);
    }

    [Fact]
    public async Task The_same_bytes_are_stored_once_and_the_second_time_changes_nothing()
    {
        await using var store = await stores.NewAsync();
        Assert.Equal(StoreOutcome.Stored, await store.Recordings.StoreAsync(Invented.Night(), Invented.Nurse, cancellation: Ended));
        var before = await store.Audit.LatestAsync(10, Ended);
        var again = Invented.Night() with { Description = new RecordingDescription { Note = "another note" } };
        Assert.Equal(StoreOutcome.AlreadyThere, await store.Recordings.StoreAsync(again, Actor.Local, cancellation: Ended));
        Assert.Equal(before, await store.Audit.LatestAsync(10, Ended));
        Assert.Null(Assert.Single(await store.Recordings.FindAsync(new RecordingFilter(), Ended)).Description.Note);
    }

    // what it shows | text | patient | category | unit | names found
    private const string Searches = """
        nothing asked, by patient then name   |         |      |         |        | b.csv c.csv a.csv
        text in the name                      | B.C     |      |         |        | b.csv
        text in the patient                   | p-0     |      |         |        | b.csv c.csv
        text in the unit, whatever the case   | WARD    |      |         |        | c.csv a.csv
        text in the note, letters beyond A–Z  | ÄRZT    |      |         |        | b.csv
        a sign of patterns is itself          | %       |      |         |        | a.csv
        another one                           | _       |      |         |        |
        a backslash                           | \       |      |         |        | c.csv
        the patient exactly                   |         | P-01 |         |        | b.csv c.csv
        not a part of the patient             |         | P-0  |         |        |
        the category                          |         |      | adult   |        | b.csv
        the unit                              |         |      |         | Ward 3 | c.csv
        all of it together                    | note    | P-01 | adult   |        | b.csv
        """;

    [Fact]
    public async Task Recordings_are_found_by_what_is_said_of_them()
    {
        await using var store = await stores.NewAsync();
        await store.Recordings.StoreAsync(Invented.Night("a.csv", 3, new RecordingDescription { Unit = "ward 4", Note = "100 % air" }), Invented.Nurse, cancellation: Ended);
        await store.Recordings.StoreAsync(Invented.Night("c.csv", 3, new RecordingDescription { Patient = "P-01", Unit = "Ward 3", Note = @"from c:\data" }), Invented.Nurse, cancellation: Ended);
        await store.Recordings.StoreAsync(Invented.Night("b.csv", 3, new RecordingDescription { Patient = "P-01", Category = "adult", Note = "ärztliche Note" }), Invented.Nurse, cancellation: Ended);
        foreach (string line in Searches.Split('\n'))
        {
            string?[] cells = [.. line.Split('|').Select(c => c.Trim()).Select(c => c.Length == 0 ? null : c)];
            var found = await store.Recordings.FindAsync(new RecordingFilter(cells[1], cells[2], cells[3], cells[4]), Ended);
            Assert.Equal($"{cells[0]}: {cells[5]}", $"{cells[0]}: {string.Join(' ', found.Select(r => r.Name))}");
        }
    }

    [Fact]
    public async Task What_people_say_is_replaced_and_the_audit_keeps_both()
    {
        await using var store = await stores.NewAsync();
        var night = Invented.Night(description: new RecordingDescription { Patient = "P-17", Note = "old" });
        await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
        await store.Recordings.DescribeAsync(night.Id, new RecordingDescription { Patient = "P-18" }, Actor.Local, Ended);
        Assert.Equal(new RecordingDescription { Patient = "P-18" }, (await store.Recordings.GetAsync(night.Id, Ended))!.Description);
        Assert.Empty(await store.Recordings.FindAsync(new RecordingFilter("old"), Ended));
        Assert.Single(await store.Recordings.FindAsync(new RecordingFilter("p-18"), Ended));
        var line = (await store.Audit.LatestAsync(1, Ended)).Single();
        Assert.Equal(("recording.described", night.Id.Text, Actor.Local), (line.Action, line.Subject, line.By));
        Assert.Contains("P-17", line.DetailJson);
        Assert.Contains("P-18", line.DetailJson);
        await store.Recordings.DescribeAsync(night.Id, new RecordingDescription { Patient = "P-18" }, Actor.Local, Ended);
        Assert.Equal(line, (await store.Audit.LatestAsync(1, Ended)).Single());
    }

    [Fact]
    public async Task A_recording_that_is_removed_takes_its_marks_along_and_leaves_its_line_in_the_audit()
    {
        var place = stores.NewPlace();
        await using var store = await stores.OpenAsync(place);
        var night = Invented.Night();
        await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
        await store.Marks.AddAsync(night.Id, new Stillwatch.Tuning.MustCatch.ReviewMark("anna", Invented.Span(3, 9), Stillwatch.Tuning.MustCatch.MarkVerdict.Artefact), Invented.Nurse, Ended);
        await store.Marks.AddBlindLookAsync(night.Id, "anna", Invented.Span(3, 9), Invented.Nurse, Ended);
        await store.Recordings.RemoveAsync(night.Id, "the wrong patient's", Actor.Local, Ended);
        Assert.Null(await store.Recordings.GetAsync(night.Id, Ended));
        Assert.Empty(await store.Recordings.AttachmentsAsync(night.Id, Ended));
        foreach (string table in new[] { "recording_files", "read_issues", "attachments", "time_axes", "channels", "time_chunks", "sample_chunks", "annotation_chunks", "review_marks", "blind_looks" })
            Assert.Equal(0L, await stores.AskAsync(place, $"SELECT COUNT(*) FROM {table}"));
        var line = (await store.Audit.LatestAsync(1, Ended)).Single();
        Assert.Equal("recording.removed", line.Action);
        Assert.Contains("the wrong patient", line.DetailJson);
        Assert.True((await store.Audit.VerifyAsync(Ended)).IsWhole);
        Assert.Equal(StoreOutcome.Stored, await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended));
    }

    [Fact]
    public async Task What_is_not_there_is_said_in_four_parts()
    {
        await using var store = await stores.NewAsync();
        var id = RecordingId.OfIdentity("never stored");
        Assert.Null(await store.Recordings.GetAsync(id, Ended));
        Assert.Null(await store.Recordings.GetAsync(default, Ended));
        Func<Task>[] calls =
        [
            () => store.Recordings.OpenAsync(id, cancellation: Ended), () => store.Recordings.WindowAsync(id, 0, default, Invented.At(1), 10, Ended),
            () => store.Recordings.DescribeAsync(id, RecordingDescription.Nothing, Actor.Local, Ended), () => store.Recordings.RemoveAsync(id, "why", Actor.Local, Ended),
        ];
        foreach (var call in calls)
        {
            var e = await Assert.ThrowsAsync<StoreException>(call);
            Assert.Contains(id.Text, e.Found);
            Assert.Equal((store.Where, false), (e.Where, e.IsTransient));
        }

        Assert.Empty(await store.Audit.LatestAsync(1, Ended));
    }

    [Fact]
    public async Task A_cancelled_import_leaves_nothing()
    {
        var place = stores.NewPlace();
        await using var store = await stores.OpenAsync(place);
        using var cancelled = new CancellationTokenSource();
        var progress = new Told(share => { if (share > 0.3) cancelled.Cancel(); });
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => store.Recordings.StoreAsync(Invented.Night(rows: 100_000), Invented.Nurse, progress, cancelled.Token));
        Assert.True(progress.Most is > 0.3 and < 0.9, $"{progress.Most}");
        Assert.Empty(await store.Recordings.FindAsync(new RecordingFilter(), Ended));
        Assert.Equal(0L, await stores.AskAsync(place, "SELECT COUNT(*) FROM sample_chunks"));
        Assert.Empty(await store.Audit.LatestAsync(1, Ended));
        Assert.Equal(StoreOutcome.Stored, await store.Recordings.StoreAsync(Invented.Night(rows: 100_000), Invented.Nurse, progress, Ended));
        Assert.Equal(1, progress.Most);
    }

    private sealed class Told(Action<double> then) : IProgress<double>
    {
        public double Most { get; private set; }

        public void Report(double value)
        {
            Most = Math.Max(Most, value);
            then(value);
        }
    }
}

public sealed class RecordingLibraryOnSqlite(SqliteStores stores) : RecordingLibraryTests(stores), IClassFixture<SqliteStores>;

public sealed class RecordingLibraryOnPostgres(PostgresStores stores) : RecordingLibraryTests(stores), IClassFixture<PostgresStores>;
