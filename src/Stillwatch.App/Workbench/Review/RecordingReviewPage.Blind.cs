using Microsoft.JSInterop;
using Stillwatch.Storage;
using Stillwatch.Storage.Marks;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.App.Workbench.Review;

/// <summary>Looking at stretches without knowing the alarms (rule R14.10).</summary>
public sealed partial class RecordingReviewPage
{
    private BlindRound? blind;
    private IReadOnlyList<BlindLook> looks = [];

    /// <summary>Every signal that is known of: of the log, of the settings in force, and of those that are tried.</summary>
    private static IReadOnlyList<TimeSlice> Signals(ReviewScene s) =>
    [
        .. s.InForce?.Replay.Signals.Select(x => x.Span) ?? [],
        .. s.Tried?.Signals.Select(x => x.Span) ?? [],
        .. s.Log?.Entries.Select(x => new TimeSlice(x.Start, x.End ?? x.Start)) ?? [],
    ];

    /// <summary>The share of the valid time without a signal that nobody looked at; null: not known.</summary>
    private double? ShareNotReviewed() =>
        scene is { Model: { } model } s && Signals(s) is { Count: > 0 } signals ? StretchSampler.ShareNotReviewed(model.SpO2, signals, [.. looks.Select(l => l.Span)]) : null;

    private async Task BeginBlindAsync(int count)
    {
        saying = "";
        if (reviewer.Trim().Length == 0)
        {
            saying = "Type your name or initials first, under Events and marks.";
            return;
        }

        var before = scene!;
        var seen = looks.Where(l => string.Equals(l.Reviewer, reviewer.Trim(), StringComparison.OrdinalIgnoreCase)).Select(l => l.Span).ToList();
        int seed = Convert.ToInt32(Id[..6], 16) + looks.Count;
        blind = await Task.Run(() => BlindRound.Draw(before.Model!.SpO2, Signals(before), seen, count, seed));
        if (blind is null)
        {
            saying = "Every stretch without a signal has been looked at.";
            return;
        }

        await ShowStretchAsync();
    }

    private async Task LookedAsync()
    {
        if (blind is not { } round) return;
        await TryDoAsync("cannot write this look down", async () =>
        {
            await Store.Marks.AddBlindLookAsync(scene!.Stored.Id, reviewer.Trim(), round.Now, Actor.Local);
            looks = await Store.Marks.BlindLooksAsync(scene.Stored.Id);
        });
        if (trouble is not null) return;
        if (round.IsLast)
        {
            await EndBlindAsync();
            saying = "All stretches of this round have been looked at, and that is written down.";
            return;
        }

        blind = round with { Index = round.Index + 1 };
        await ShowStretchAsync();
    }

    private async Task ShowStretchAsync()
    {
        selection = null;
        current = -1;
        saying = "";
        await ShowAsync(scene! with { HidesAlarms = true, Selection = null });
        if (strip is not null) await strip.InvokeVoidAsync("keep", blind!.Now.Start.Milliseconds, blind.Now.End.Milliseconds);
    }

    private async Task EndBlindAsync()
    {
        blind = null;
        selection = null;
        tab = "blind";
        await ShowAsync(scene! with { HidesAlarms = false, Selection = null });
        if (strip is not null) await strip.InvokeVoidAsync("keep", scene!.Whole.Start.Milliseconds, scene.Whole.End.Milliseconds);
    }
}
