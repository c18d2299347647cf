using Microsoft.JSInterop;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.App.Workbench.Review;

/// <summary>Review marks: whose they are, by key and by button, taken back, compared.</summary>
public sealed partial class RecordingReviewPage
{
    private string reviewer = "";
    private string note = "";
    private bool hasKeys = true;
    private bool isComparing;
    private Task turn = Task.CompletedTask;
    private IReadOnlyList<string> others = [];
    private IReadOnlyList<ReviewerAgreement> agreement = [];

    /// <summary>One reviewer's own marks; of all, once they are compared. The others' marks change nothing that is seen before that.</summary>
    private IReadOnlyList<ReviewMark> ShownMarks() => book is null ? [] : isComparing ? book.All : reviewer.Trim().Length > 0 ? book.Of(reviewer) : [];

    private async Task ReviewerChangedAsync()
    {
        isComparing = false;
        if (module is not null) await module.InvokeVoidAsync("writeReviewer", reviewer.Trim());
        await MarksChangedAsync();
        StateHasChanged();
    }

    private async Task MarksChangedAsync()
    {
        var before = scene!;
        var marks = ShownMarks();
        others = book!.Others(reviewer);
        var next = await Task.Run(() => ReviewScenes.WithMarks(before, marks));
        await ShowAsync(next);
        agreement = isComparing ? ReviewerAgreement.Between([.. events.Select(e => e.ForMarks)], book.All) : [];
    }

    /// <summary>What a mark would be on: the event, or the selected stretch; null: neither.</summary>
    private TimeSlice? Target() => blind is { } round ? selection ?? round.Now : current >= 0 && current < events.Count ? events[current].Span : selection;

    private string TargetWords()
    {
        if (Target() is not { } target) return "";
        var start = scene!.Stored.Start;
        string span = $"{start.ClockAt(target.Start)} – {start.ClockAt(target.End)}";
        return current >= 0 && blind is null ? $"event {events[current].Number}, {span}" : $"the selected stretch, {span}";
    }

    /// <summary>One thing after another: keys come faster than marks are kept, and a mark that is still being kept would take the next one to its own event.</summary>
    private Task InTurnAsync(Func<Task> act)
    {
        return turn = AfterAsync(turn, act);

        static async Task AfterAsync(Task before, Func<Task> act)
        {
            await before;
            await act();
        }
    }

    private Task MarkInTurnAsync(MarkVerdict verdict) => InTurnAsync(() => MarkAsync(verdict));

    private Task UndoInTurnAsync() => InTurnAsync(UndoAsync);

    private Task GoToEventInTurnAsync(int index) => InTurnAsync(() => GoToEventAsync(index));

    private async Task MarkAsync(MarkVerdict verdict)
    {
        saying = "";
        if (reviewer.Trim().Length == 0)
        {
            saying = "Type your name or initials first: two reviewers count only if they can be told apart.";
            return;
        }

        if (Target() is not { } target)
        {
            saying = "Choose an event (J), or select a stretch by dragging with Shift, then mark it.";
            return;
        }

        await TryDoAsync("cannot keep this mark", async () =>
        {
            int kept = current;
            await book!.MarkAsync(new ReviewMark(reviewer.Trim(), target, verdict, note.Trim()));
            note = "";
            await MarksChangedAsync();
            // The list may have changed with the mark: the reader stays at the same stretch.
            current = kept >= 0 ? IndexAt(target) : -1;
            saying = $"Marked {MarkBook.InWords(verdict)}: {scene!.Stored.Start.ClockAt(target.Start)}.";
        });
    }

    private Task UndoAsync() => TryDoAsync("cannot take the mark back", async () =>
    {
        int kept = current;
        var span = await book!.UndoAsync(reviewer);
        await MarksChangedAsync();
        if (span is { } at && kept >= 0) current = IndexAt(at);
        saying = span is { } taken ? $"The mark at {scene!.Stored.Start.ClockAt(taken.Start)} was taken back." : "There is no mark of yours from this sitting to take back.";
    });

    private int IndexAt(TimeSlice span)
    {
        for (int i = 0; i < events.Count; i++)
        {
            if (events[i].Span == span) return i;
        }

        for (int i = 0; i < events.Count; i++)
        {
            if (events[i].Span.Overlaps(span)) return i;
        }

        return -1;
    }

    private Task CompareAsync(bool wanted)
    {
        isComparing = wanted;
        return MarksChangedAsync();
    }

    /// <summary>Called by the browser: a key of the review was pressed outside a field.</summary>
    [JSInvokable]
    public Task Key(string pressed) => InTurnAsync(() => KeyAsync(pressed));

    private async Task KeyAsync(string pressed)
    {
        if (scene is null) return;
        switch (pressed)
        {
            case "j" or "n" or "arrowdown" when blind is null:
                await GoToEventAsync(Math.Min(current + 1, events.Count - 1));
                break;
            case "k" or "arrowup" when blind is null:
                await GoToEventAsync(Math.Max(current - 1, 0));
                break;
            case "1" or "2" or "3" or "4":
                await MarkAsync(pressed switch { "1" => MarkVerdict.RealAndSignificant, "2" => MarkVerdict.RealButNotSignificant, "3" => MarkVerdict.Artefact, _ => MarkVerdict.CannotTell });
                break;
            case "u":
                await UndoAsync();
                break;
        }

        StateHasChanged();
    }
}
