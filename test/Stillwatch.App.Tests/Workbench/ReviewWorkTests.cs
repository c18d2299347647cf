using Stillwatch.App.Jobs;
using Stillwatch.App.Tests.Running;
using Stillwatch.App.Workbench.Imports;
using Stillwatch.App.Workbench.Library;
using Stillwatch.App.Workbench.Review;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.App.Tests.Workbench;

/// <summary>A night out of the library as its review page has it: events, marks of two reviewers, settings that are tried, looks without alarms.</summary>
/// <remarks>The night of three hours falls to 78 % for two minutes in each hour, and to 86 % for 14 s.</remarks>
public sealed class ReviewWorkTests : IAsyncLifetime
{
    private readonly Folder folder = new();
    private TestStore store = null!;
    private StoredRecording stored = null!;
    private LoadedRecording loaded = null!;

    public async ValueTask InitializeAsync()
    {
        store = await TestStore.OpenAsync();
        folder.WriteNight("night.csv");
        var description = RecordingDescription.Nothing with { Category = "adult", SettingsInForceJson = new SettingsForm { Low = 90, LowDelay = 10 }.ToCheckedJson() };
        await new ImportService(store.Store).StoreAsync(new ImportRequest(folder["night.csv"], new ReadingAnswers().Choices(), description, null), Actor.Local, null, TestStore.Token);
        stored = (await store.AllAsync())[0];
        loaded = await new RecordingLibrary(store.Store).LoadAsync(stored, TestStore.Token);
    }

    public async ValueTask DisposeAsync()
    {
        await store.DisposeAsync();
        folder.Dispose();
    }

    private MarkBook Book => new(store.Store.Marks, stored.Id, Actor.Local);

    private ReviewScene Scene(params ReviewMark[] marks) => ReviewScenes.Of(stored, loaded, marks);

    [Fact]
    public void A_fall_that_is_must_catch_is_one_line_of_the_events_list_and_answers_for_the_settings_in_force()
    {
        var scene = Scene();
        var events = ListedEvent.Of(scene.Model!, scene.Model!.Replay);
        Assert.Equal(["must-catch 78", "fall 86", "must-catch 78", "fall 86", "must-catch 78", "fall 86"], events.Select(e => $"{(e.MustCatch is null ? "fall" : "must-catch")} {e.Nadir:0}"));
        Assert.All(events.Where(e => e.MustCatch is not null), e => Assert.Equal(CatchVerdict.InTime, e.Answer!.Verdict));
        Assert.All(events.Where(e => e.MustCatch is not null), e => Assert.NotNull(e.Fall));
        Assert.Equal([1, 3, 5], ListedEvent.Of(scene.Model, null, EventFilter.MustCatch).Select(e => e.Number));
    }

    [Fact]
    public void Settings_that_are_tried_are_replayed_beside_those_in_force()
    {
        var tried = ReviewScenes.WithTried(Scene(), new SettingsForm { Low = 90, LowDelay = 200 }.ToSettings());
        Assert.Equal(3, tried.InForce!.Replay.Answers.Count(a => a.Verdict == CatchVerdict.InTime));
        Assert.All(tried.Tried!.Answers, a => Assert.Equal(CatchVerdict.Missed, a.Verdict));
        Assert.Null(ReviewScenes.WithTried(tried, null).Tried);
    }

    [Fact]
    public async Task One_artefact_mark_takes_no_event_away_and_two_of_different_reviewers_do()
    {
        var book = Book;
        var span = ListedEvent.Of(Scene().Model!, null, EventFilter.MustCatch)[0].Span;
        await book.MarkAsync(new ReviewMark("AB", span, MarkVerdict.Artefact), TestStore.Token);
        Assert.Equal(3, ReviewScenes.WithMarks(Scene(), book.Of("ab")).Model!.MustCatch.Count);
        await book.MarkAsync(new ReviewMark("CD", span, MarkVerdict.Artefact), TestStore.Token);
        Assert.Equal(3, ReviewScenes.WithMarks(Scene(), book.Of("CD")).Model!.MustCatch.Count); // the other's marks are not seen yet
        Assert.Equal(["AB"], book.Others("cd"));
        var compared = ReviewScenes.WithMarks(Scene(), book.All);
        Assert.Equal(2, compared.Model!.MustCatch.Count);
        Assert.Contains("no longer must-catch", Assert.Single(compared.Model.MarkWords), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_changed_mind_is_one_opinion_and_undo_goes_back_step_by_step()
    {
        var book = Book;
        var span = new TimeSlice(new SampleTime(600_000), new SampleTime(760_000));
        await book.MarkAsync(new ReviewMark("AB", span, MarkVerdict.Artefact, "moved"), TestStore.Token);
        await book.MarkAsync(new ReviewMark("ab", span, MarkVerdict.RealAndSignificant), TestStore.Token);
        Assert.Equal([MarkVerdict.RealAndSignificant], book.All.Select(m => m.Verdict));
        Assert.Equal(span, await book.UndoAsync("AB", TestStore.Token));
        Assert.Equal([(MarkVerdict.Artefact, "moved")], book.All.Select(m => (m.Verdict, m.Note)));
        await book.UndoAsync("AB", TestStore.Token);
        Assert.Empty(book.All);
        Assert.Null(await book.UndoAsync("AB", TestStore.Token));
        Assert.Equal(3, (await store.Store.Marks.OfAsync(stored.Id, TestStore.Token)).Count); // nothing is deleted: two were withdrawn, one was put back and withdrawn
    }

    [Fact]
    public async Task Undo_takes_back_ones_own_mark_and_never_that_of_another_reviewer_at_the_same_page()
    {
        var book = Book;
        var span = new TimeSlice(new SampleTime(600_000), new SampleTime(760_000));
        await book.MarkAsync(new ReviewMark("AB", span, MarkVerdict.RealAndSignificant), TestStore.Token);
        await book.MarkAsync(new ReviewMark("CD", span, MarkVerdict.Artefact), TestStore.Token);
        Assert.Equal(span, await book.UndoAsync("cd", TestStore.Token));
        Assert.False(book.CanUndo("CD"));
        Assert.Null(await book.UndoAsync("CD", TestStore.Token));
        Assert.Equal(["AB"], book.All.Select(m => m.Reviewer));
        Assert.True(book.CanUndo("ab"));
    }

    [Fact]
    public async Task In_two_windows_a_changed_mind_is_still_one_opinion_and_what_the_other_took_back_is_not_taken_back_twice()
    {
        MarkBook one = Book, other = Book;
        var span = new TimeSlice(new SampleTime(600_000), new SampleTime(760_000));
        await one.LoadAsync(TestStore.Token);
        await other.LoadAsync(TestStore.Token);
        await one.MarkAsync(new ReviewMark("AB", span, MarkVerdict.RealAndSignificant), TestStore.Token);
        await other.MarkAsync(new ReviewMark("AB", span, MarkVerdict.Artefact), TestStore.Token);
        Assert.Equal([MarkVerdict.Artefact], other.All.Select(m => m.Verdict));
        Assert.Null(await one.UndoAsync("AB", TestStore.Token)); // the other window replaced it
        Assert.Equal([MarkVerdict.Artefact], one.All.Select(m => m.Verdict));
    }

    [Fact]
    public async Task A_mark_that_was_put_back_and_replaced_again_is_found_again()
    {
        var book = Book;
        var span = new TimeSlice(new SampleTime(600_000), new SampleTime(760_000));
        foreach (var verdict in new[] { MarkVerdict.Artefact, MarkVerdict.RealAndSignificant }) await book.MarkAsync(new ReviewMark("AB", span, verdict), TestStore.Token);
        await book.UndoAsync("AB", TestStore.Token);
        await book.MarkAsync(new ReviewMark("AB", span, MarkVerdict.CannotTell), TestStore.Token);
        await book.UndoAsync("AB", TestStore.Token);
        Assert.Equal([MarkVerdict.Artefact], book.All.Select(m => m.Verdict));
        await book.UndoAsync("AB", TestStore.Token);
        Assert.Empty(book.All);
    }

    [Fact]
    public void A_look_without_alarms_draws_stretches_that_did_not_signal_and_that_nobody_looked_at()
    {
        var scene = Scene();
        var signals = scene.InForce!.Replay.Signals.Select(s => s.Span).ToList();
        Assert.NotEmpty(signals);
        var round = BlindRound.Draw(scene.Model!.SpO2, signals, [], 5, seed: 7)!;
        Assert.Equal(5, round.Stretches.Count);
        Assert.All(round.Stretches, s => Assert.DoesNotContain(signals, x => x.Overlaps(s)));
        Assert.Equal(round.Stretches, BlindRound.Draw(scene.Model.SpO2, signals, [], 5, seed: 7)!.Stretches);
        var again = BlindRound.Draw(scene.Model.SpO2, signals, round.Stretches, 50, seed: 7)!;
        Assert.All(again.Stretches, s => Assert.DoesNotContain(round.Stretches, x => x.Overlaps(s)));
        Assert.Null(BlindRound.Draw(scene.Model.SpO2, signals, [.. round.Stretches, .. again.Stretches], 5, seed: 7));
    }

    [Fact]
    public async Task A_strip_shows_signals_events_and_marks_and_none_of_them_to_who_must_not_know()
    {
        var mark = new ReviewMark("AB", new TimeSlice(new SampleTime(600_000), new SampleTime(760_000)), MarkVerdict.Artefact);
        var scene = ReviewScenes.WithTried(Scene(mark), new SettingsForm { Low = 88, LowDelay = 5 }.ToSettings());
        string open = await new StripPicture(scene, store.Store.Recordings).DetailAsync(scene.Whole, 1200, "a", TestStore.Token);
        string hidden = await new StripPicture(scene with { HidesAlarms = true }, store.Store.Recordings).DetailAsync(scene.Whole, 1200, "a", TestStore.Token);
        foreach (string word in new[] { "In force, replayed", "Tried, replayed", "Must-catch", "Falls", ">AB<", "low limit 90" })
        {
            Assert.Contains(word, open, StringComparison.Ordinal);
            Assert.DoesNotContain(word, hidden, StringComparison.Ordinal);
        }
    }

    /// <summary>A lowest value on the foot of its panel, or a rise beyond its head, would look as if there were none.</summary>
    [Fact]
    public async Task The_lowest_SpO2_stands_above_the_foot_of_its_panel_and_a_short_rise_of_heart_rate_inside_it()
    {
        folder.Write("deep.csv", "Time,SpO2,Heart rate\n" + string.Concat(Enumerable.Range(0, 600).Select(i => $"{i},{(i is >= 300 and < 310 ? 65 : 96)},{(i is >= 300 and < 304 ? 140 : 60)}\n")));
        await new ImportService(store.Store).StoreAsync(new ImportRequest(folder["deep.csv"], new ReadingAnswers().Choices(), RecordingDescription.Nothing, null), Actor.Local, null, TestStore.Token);
        var deep = (await store.AllAsync()).Single(r => r.Name.Contains("deep", StringComparison.Ordinal));
        var scene = ReviewScenes.Of(deep, await new RecordingLibrary(store.Store).LoadAsync(deep, TestStore.Token), []);
        string strip = await new StripPicture(scene, store.Store.Recordings).DetailAsync(scene.Whole, 1200, "a", TestStore.Token);
        Assert.Contains(">60</text>", strip, StringComparison.Ordinal); // the scale of SpO2 reaches below 65
        Assert.Equal(2, strip.Split(">100</text>").Length - 1); // and that of the heart rate, as that of SpO2, to 100 and beyond
    }

    [Fact]
    public async Task Without_SpO2_there_is_a_picture_and_a_reason_and_no_review()
    {
        folder.Write("pleth.csv", "Time,PLETH\n" + string.Concat(Enumerable.Range(0, 400).Select(i => $"{i * 0.01:0.00},{i % 80}\n")));
        await new ImportService(store.Store).StoreAsync(new ImportRequest(folder["pleth.csv"], new ReadingAnswers().Choices(), RecordingDescription.Nothing, null), Actor.Local, null, TestStore.Token);
        var pleth = (await store.AllAsync()).Single(r => r.Name.Contains("pleth", StringComparison.Ordinal));
        var scene = ReviewScenes.Of(pleth, await new RecordingLibrary(store.Store).LoadAsync(pleth, TestStore.Token), []);
        Assert.Null(scene.Model);
        Assert.Equal("no column that is SpO2", scene.WhyNot!.Found);
        Assert.Contains("PLETH", await new StripPicture(scene, store.Store.Recordings).DetailAsync(scene.Whole, 800, "a", TestStore.Token), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_log_that_cannot_be_read_is_said_and_takes_nothing_else_away()
    {
        folder.WriteNight("other.csv", 3600);
        folder.Write("log.csv", "\0\0\0\0");
        await new ImportService(store.Store).StoreAsync(new ImportRequest(folder["other.csv"], new ReadingAnswers().Choices(), stored.Description, folder["log.csv"]), Actor.Local, null, TestStore.Token);
        var other = (await store.AllAsync()).Single(r => r.Id != stored.Id);
        var scene = ReviewScenes.Of(other, await new RecordingLibrary(store.Store).LoadAsync(other, TestStore.Token), []);
        Assert.NotNull(scene.LogTrouble);
        Assert.NotNull(scene.InForce);
    }
}
