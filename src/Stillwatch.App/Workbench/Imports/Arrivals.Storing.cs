using Stillwatch.App.Commands;
using Stillwatch.App.Workbench.Layout;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;

namespace Stillwatch.App.Workbench.Imports;

/// <summary>What was looked at is stored, and what became of each file is said.</summary>
public sealed partial class Arrivals
{
    private async Task StoreAllAsync()
    {
        ArrivedRecording[] ready = [.. recordings.Where(r => r.CanBeStored)];
        var cancellation = Begin();
        (stage, share) = (Stage.Storing, 0);
        try
        {
            for (int i = 0; i < ready.Length; i++)
            {
                await SayAsync($"Storing {ready[i].Name} ({i + 1} of {ready.Length})", (double)i / ready.Length);
                await StoreOneAsync(ready[i], i, ready.Length, cancellation);
            }
        }
        catch (OperationCanceledException)
        {
            said = "Stopped. What is marked as stored is stored; the rest can be stored now or brought in again.";
        }

        int left = recordings.Count(r => r.Preview is not null && r.Outcome is null && !r.IsThere && !r.IsLeftOut);
        stage = left == 0 ? Stage.Done : Stage.Looking;
        if (stage == Stage.Done) CloseBatch();
        else if (said.Length == 0 && recordings.Any(r => r.Outcome is not null)) said = DoneWords() + " What is left needs a word from you, or is to be left out.";
        // What is stored gives way to what still needs a word.
        foreach (var one in recordings.Where(r => r.Outcome is not null)) one.IsOpen = false;
        foreach (var one in recordings.Where(r => r.NeedsAWord).Take(MostOpen)) one.IsOpen = true;
        await Stored.InvokeAsync();
        goesToAnswer = true;
        StateHasChanged();
    }

    private async Task StoreOneAsync(ArrivedRecording recording, int index, int count, CancellationToken cancellation)
    {
        recording.Trouble = null;
        var staged = batch!;
        try
        {
            var description = recording.Description.ToDescription(common);
            string? log = recording.AlarmLog.Length > 0 ? staged.PathOf(recording.AlarmLog) : null;
            var request = new ImportRequest(staged.PathOf(recording.Name), recording.Choices(null, cancellation), description, log);
            var progress = new Progress<double>(done => _ = InvokeAsync(() =>
            {
                share = (index + done) / count;
                StateHasChanged();
            }));
            recording.Outcome = await Task.Run(() => Import.StoreAsync(request, Actor.Local, progress, cancellation), cancellation);
        }
        catch (StopException e)
        {
            (recording.Trouble, recording.IsOpen) = (FieldWords.Of(e.Trouble), true);
        }
        catch (StoreException e)
        {
            (recording.Trouble, recording.IsOpen) = (TroubleBox.Of(e, $"cannot store {recording.Name}"), true);
        }
    }

    private static string Sentence(int ready, int doubts, int unread, int there)
    {
        var parts = new List<string>();
        if (ready > 0) parts.Add($"{ready} can be stored");
        if (doubts > 0) parts.Add(doubts == 1 ? "1 needs a word from you" : $"{doubts} need a word from you");
        if (there > 0) parts.Add(there == 1 ? "1 is in the library already" : $"{there} are in the library already");
        if (unread > 0) parts.Add(unread == 1 ? "1 cannot be read" : $"{unread} cannot be read");
        return parts.Count > 0 ? string.Join(", ", parts) + "." : "Nothing is left to store.";
    }

    private string DoneWords()
    {
        int stored = recordings.Count(r => r.Outcome == StoreOutcome.Stored), there = recordings.Count(r => r.IsThere || r.Outcome == StoreOutcome.AlreadyThere), unread = recordings.Count(r => r.Preview is null), left = recordings.Count(r => r.IsLeftOut);
        string words = stored == 1 ? "1 recording was stored" : $"{stored} recordings were stored";
        if (there > 0) words += there == 1 ? ", 1 was there already" : $", {there} were there already";
        if (left > 0) words += $", {left} left out";
        if (unread > 0) words += unread == 1 ? ", 1 could not be read" : $", {unread} could not be read";
        return words + ".";
    }
}
