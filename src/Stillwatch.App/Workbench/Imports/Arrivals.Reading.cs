using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.App.Workbench.Layout;
using Stillwatch.Rehearsal;
using Stillwatch.Storage;

namespace Stillwatch.App.Workbench.Imports;

/// <summary>What arrived is read, to be looked at.</summary>
public sealed partial class Arrivals
{
    private static readonly string[] EndingsOfTables = ["", ".csv", ".tsv", ".txt", ".log"];

    /// <summary>Tables that are not stored as recordings: one of them may be an alarm log.</summary>
    private IReadOnlyList<string> PossibleLogs => [.. OtherFiles.Where(n => EndingsOfTables.Contains(Path.GetExtension(n).ToLowerInvariant()))];

    /// <summary>What was brought in and is used for nothing: nobody may believe that it was taken.</summary>
    private IReadOnlyList<string> LeftAside => [.. OtherFiles.Where(n => recordings.All(r => r.Name != n && r.AlarmLog != n))];

    /// <summary>Files that are not stored as recordings.</summary>
    private IReadOnlyList<string> OtherFiles => batch is null ? [] :
        [.. batch.Names.Where(n => n != WardManifest.FileName && !settingsFiles.ContainsKey(n) && recordings.All(r => r.Name != n || r.Preview is null) && !recordings.Any(r => r.Preview?.Parts.Contains(n) == true))];

    private async Task TakeDemoInAsync()
    {
        if (IsAtWork) return;
        Reset();
        (stage, doing) = (Stage.Arriving, "Inventing a ward: twelve patients, two nights each");
        StateHasChanged();
        try
        {
            batch = Desk.Open();
            string folder = batch.Folder;
            await Task.Run(() => DemoWriter.Write(DemoWard.Compose(), folder));
            batch.Remove(DemoFiles.MustCatchName);
            batch.AddWhatIsThere();
            await ReadAllAsync();
            // Nobody has to look at what the program itself invented a moment ago.
            if (stage == Stage.Looking && troubles.Count == 0) await StoreAllAsync();
        }
        catch (StopException e)
        {
            End(e.Trouble);
        }
        catch (Exception e) when ((e is AggregateException { InnerException: { } inner } ? inner : e) is IOException or UnauthorizedAccessException)
        {
            End(new Trouble("cannot write the invented ward", e.Message, "room in the staging folder", "the data folder", "the disk is full"));
        }
    }

    private async Task ReadAllAsync()
    {
        stage = Stage.Reading;
        share = 0;
        recordings.Clear();
        settingsFiles.Clear();
        var cancellation = Begin();
        var staged = batch!;
        try
        {
            var names = await Task.Run(() => ImportService.RecordingsIn(staged.Folder, staged.Names), cancellation);
            foreach (string name in staged.Names.Where(n => n.EndsWith(".json", StringComparison.OrdinalIgnoreCase) && !names.Contains(n))) TakeSettings(staged, name);
            for (int i = 0; i < names.Count; i++)
            {
                await SayAsync($"Reading {names[i]} ({i + 1} of {names.Count})", (double)i / names.Count);
                var recording = new ArrivedRecording(names[i]);
                string path = staged.PathOf(recording.Name);
                await Task.Run(() => recording.Read(path, null, cancellation), cancellation);
                await LookUpAsync(recording, cancellation);
                recordings.Add(recording);
            }

            string[] logs = [.. recordings.Select(r => r.AlarmLog)];
            recordings.RemoveAll(r => r.Preview is null && logs.Contains(r.Name));
            if (settingsFiles.Count == 1) common.TakeFile(settingsFiles.Keys.First(), settingsFiles.Values.First());
            if (recordings is [var only]) only.IsOpen = true;
            foreach (var recording in recordings.Where(r => r.NeedsAWord || r.Preview is null).Take(MostOpen)) recording.IsOpen = true;
            stage = Stage.Looking;
        }
        catch (OperationCanceledException)
        {
            End(null);
            said = "Stopped. Nothing was stored.";
        }
        catch (StopException e)
        {
            troubles.Add(WithPlainNames(e.Trouble, staged));
            stage = Stage.Looking;
        }
        catch (StoreException e)
        {
            troubles.Add(TroubleBox.Of(e, "cannot look into the library"));
            stage = Stage.Looking;
        }

        goesToAnswer = stage == Stage.Looking && recordings.Count > 0;
        StateHasChanged();
    }

    /// <summary>Where files wait is nobody's business: they are called by their names.</summary>
    private static Trouble WithPlainNames(Trouble trouble, StagedBatch staged)
    {
        string Plain(string text) => text.Replace(staged.Folder + Path.DirectorySeparatorChar, "", StringComparison.Ordinal);
        return new Trouble(Plain(trouble.Title), Plain(trouble.Found), Plain(trouble.Expected), Plain(trouble.Where), Plain(trouble.LikelyCause));
    }

    /// <summary>A ward.json that cannot be used does not hold up the recordings beside it.</summary>
    private Task LeaveManifestAsideAsync()
    {
        troubles.Clear();
        batch!.Remove(WardManifest.FileName);
        return ReadAllAsync();
    }

    private async Task ReadAgainAsync(ArrivedRecording recording)
    {
        string path = batch!.PathOf(recording.Name);
        await Task.Run(() => recording.Read(path, null, CancellationToken.None));
        recording.IsConfirmed = false;
        await LookUpAsync(recording, CancellationToken.None);
    }

    private async Task LookUpAsync(ArrivedRecording recording, CancellationToken cancellation)
    {
        if (recording.Preview is { } preview) recording.IsThere = await Store.Recordings.GetAsync(preview.Id, cancellation) is not null;
    }

    private void TakeSettings(StagedBatch staged, string name)
    {
        try
        {
            string text = File.ReadAllText(staged.PathOf(name));
            SettingsFile.OfText(name, text);
            settingsFiles[name] = text;
        }
        catch (Exception e) when (e is StopException or IOException or UnauthorizedAccessException)
        {
            // A JSON file that is neither recording nor settings is listed among the files that were left aside.
        }
    }
}
