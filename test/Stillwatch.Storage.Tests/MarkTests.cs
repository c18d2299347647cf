using Stillwatch.Storage.Marks;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Tests.Inputs;
using Stillwatch.Storage.Tests.Servers;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Storage.Tests;

public abstract class MarkTests(Stores stores)
{
    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Marks_come_back_in_the_order_in_which_they_were_made_and_taking_one_back_keeps_it()
    {
        await using var store = await stores.NewAsync();
        var night = Invented.Night();
        await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
        var late = new ReviewMark("anna", Invented.Span(200, 230), MarkVerdict.RealAndSignificant, "it's real; \"sat\" 71 \0 \\");
        var moment = new ReviewMark("bo", Invented.Span(20, 20), MarkVerdict.Artefact);
        long first = await store.Marks.AddAsync(night.Id, late, Invented.Nurse, Ended);
        long second = await store.Marks.AddAsync(night.Id, moment, Actor.Local, Ended);
        Assert.True(second > first);
        await store.Marks.WithdrawAsync(first, Actor.Local, Ended);
        var marks = await store.Marks.OfAsync(night.Id, Ended);
        Assert.Equal([(first, late, false), (second, moment, true)], marks.Select(m => (m.Number, m.Mark, m.Stands)));
        Assert.Equal((Invented.Nurse, Actor.Local), (marks[0].MadeBy, marks[0].WithdrawnBy!.Value));
        Assert.True(marks[0].WithdrawnAt > marks[1].MadeAt && marks[1].MadeAt > marks[0].MadeAt);

        await store.Marks.WithdrawAsync(first, Invented.Nurse, Ended);
        Assert.Equal(marks, await store.Marks.OfAsync(night.Id, Ended));
        Assert.Equal(["mark.withdrawn", "mark.made", "mark.made", "recording.imported"], (await store.Audit.LatestAsync(9, Ended)).Select(l => l.Action));
        Assert.Equal($"mark {first}", (await store.Audit.LatestAsync(1, Ended))[0].Subject);
    }

    [Fact]
    public async Task Blind_looks_are_kept_apart_from_marks()
    {
        await using var store = await stores.NewAsync();
        var night = Invented.Night();
        await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
        await store.Marks.AddBlindLookAsync(night.Id, " anna ", Invented.Span(0, 3600), Invented.Nurse, Ended);
        var look = Assert.Single(await store.Marks.BlindLooksAsync(night.Id, Ended));
        Assert.Equal(("anna", Invented.Span(0, 3600), Invented.Nurse, night.Id), (look.Reviewer, look.Span, look.By, look.Recording));
        Assert.Empty(await store.Marks.OfAsync(night.Id, Ended));
        Assert.Empty(await store.Marks.BlindLooksAsync(RecordingId.OfIdentity("another"), Ended));
    }

    [Fact]
    public async Task A_mark_needs_its_recording_and_a_withdrawal_its_mark()
    {
        await using var store = await stores.NewAsync();
        var mark = new ReviewMark("anna", Invented.Span(1, 2), MarkVerdict.CannotTell);
        await Assert.ThrowsAsync<StoreException>(() => store.Marks.AddAsync(RecordingId.OfIdentity("none"), mark, Actor.Local, Ended));
        await Assert.ThrowsAsync<StoreException>(() => store.Marks.AddBlindLookAsync(RecordingId.OfIdentity("none"), "anna", Invented.Span(1, 2), Actor.Local, Ended));
        await Assert.ThrowsAsync<StoreException>(() => store.Marks.WithdrawAsync(1, Actor.Local, Ended));
        Assert.Empty(await store.Audit.LatestAsync(9, Ended));
    }

    // what somebody with the database and without the program tries
    private const string Tries = """
        UPDATE review_marks SET verdict = 'Artefact'
        UPDATE review_marks SET reviewer = 'somebody'
        UPDATE review_marks SET start_milliseconds = 0
        UPDATE review_marks SET withdrawn_at = '2031-01-01T00:00:00.000Z'
        UPDATE review_marks SET withdrawn_at = 'x', withdrawn_by = 'y', note = 'z'
        DELETE FROM review_marks
        UPDATE blind_looks SET reviewer = 'somebody'
        DELETE FROM blind_looks
        UPDATE settings_history SET why = 'another reason'
        DELETE FROM settings_history
        UPDATE reports SET title = 'another'
        DELETE FROM reports
        UPDATE audit SET by_actor = 'somebody'
        DELETE FROM audit
        """;

    [Fact]
    public async Task What_was_written_down_cannot_be_changed_behind_the_programs_back()
    {
        var place = stores.NewPlace();
        await using var store = await stores.OpenAsync(place);
        var night = Invented.Night();
        await store.Recordings.StoreAsync(night, Invented.Nurse, cancellation: Ended);
        long number = await store.Marks.AddAsync(night.Id, new ReviewMark("anna", Invented.Span(1, 2), MarkVerdict.RealAndSignificant), Actor.Local, Ended);
        await store.Marks.AddBlindLookAsync(night.Id, "anna", Invented.Span(1, 2), Actor.Local, Ended);
        await store.Settings.AddAsync(SettingsHistoryTests.Entry("first"), Actor.Local, Ended);
        await store.Reports.AddAsync(new Reports.NewReport("recording", "Night 1", "text/html", [1]), Actor.Local, Ended);
        foreach (string sql in Tries.Split('\n'))
        {
            var e = await Record.ExceptionAsync(() => stores.TamperAsync(place, sql));
            Assert.True(e is System.Data.Common.DbException && (e.Message.Contains("never", StringComparison.Ordinal) || e.Message.Contains("only the withdrawal", StringComparison.Ordinal)), $"{sql}: {e?.Message ?? "went through"}");
        }

        await store.Marks.WithdrawAsync(number, Actor.Local, Ended);
        await Assert.ThrowsAnyAsync<System.Data.Common.DbException>(() => stores.TamperAsync(place, "UPDATE review_marks SET withdrawn_at = NULL, withdrawn_by = NULL"));
        Assert.True((await store.Audit.VerifyAsync(Ended)).IsWhole);
    }
}

public sealed class MarksOnSqlite(SqliteStores stores) : MarkTests(stores), IClassFixture<SqliteStores>;

public sealed class MarksOnPostgres(PostgresStores stores) : MarkTests(stores), IClassFixture<PostgresStores>;
