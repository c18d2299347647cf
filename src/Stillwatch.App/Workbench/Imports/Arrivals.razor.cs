using System.Text.Json;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Routing;
using Microsoft.JSInterop;
using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.App.Workbench.Recordings;
using Stillwatch.Formats;
using Stillwatch.Rehearsal;
using Stillwatch.App.Workbench.Layout;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;

namespace Stillwatch.App.Workbench.Imports;

/// <summary>Brings files into the library: arrival, reading, a look at each, storing. Nothing is stored before it was looked at.</summary>
public sealed partial class Arrivals : IAsyncDisposable
{
    private enum Stage
    {
        Waiting,
        Arriving,
        Reading,
        Looking,
        Storing,
        Done,
    }

    private readonly List<Trouble> troubles = [];
    private readonly List<ArrivedRecording> recordings = [];
    private readonly Dictionary<string, string> settingsFiles = [];
    private Stage stage;
    private StagedBatch? batch;
    private CancellationTokenSource? work;
    private DescriptionForm common = new();
    private ElementReference root;
    private IJSObjectReference? module;
    private DotNetObjectReference<Arrivals>? self;
    private string doing = "";
    private double share;
    private string said = "";

    [Inject] private ArrivalDesk Desk { get; set; } = null!;

    [Inject] private ImportService Import { get; set; } = null!;

    [Inject] private IWorkbenchStore Store { get; set; } = null!;

    [Inject] private IJSRuntime Js { get; set; } = null!;

    /// <summary>Something was stored.</summary>
    [Parameter] public EventCallback Stored { get; set; }

    /// <summary>Whether the library holds nothing yet: the invitation is then larger.</summary>
    [Parameter] public bool IsFirst { get; set; }

    private bool IsAtWork => stage is Stage.Arriving or Stage.Reading or Stage.Storing;

    private static readonly string[] EndingsOfTables = ["", ".csv", ".tsv", ".txt", ".log"];

    /// <summary>Tables that are not stored as recordings: one of them may be an alarm log.</summary>
    private IReadOnlyList<string> PossibleLogs => [.. OtherFiles.Where(n => EndingsOfTables.Contains(Path.GetExtension(n).ToLowerInvariant()))];

    /// <summary>What was brought in and is used for nothing: nobody may believe that it was taken.</summary>
    private IReadOnlyList<string> LeftAside => [.. OtherFiles.Where(n => recordings.All(r => r.Name != n && r.AlarmLog != n))];

    /// <summary>Files that are not stored as recordings.</summary>
    private IReadOnlyList<string> OtherFiles => batch is null ? [] :
        [.. batch.Names.Where(n => n != WardManifest.FileName && !settingsFiles.ContainsKey(n) && recordings.All(r => r.Name != n || r.Preview is null) && !recordings.Any(r => r.Preview?.Parts.Contains(n) == true))];

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (!firstRender) return;
        self = DotNetObjectReference.Create(this);
        module = await Js.InvokeAsync<IJSObjectReference>("import", "./arrivals.js");
        await module.InvokeVoidAsync("attach", root, self);
    }

    /// <summary>Called by the browser: so many files were chosen or dropped.</summary>
    /// <returns>The key of the batch to send them to; empty: not now.</returns>
    [JSInvokable]
    public string Chosen(int files)
    {
        if (IsAtWork) return "";
        Reset();
        try
        {
            batch = Desk.Open();
        }
        catch (StopException e)
        {
            troubles.Add(e.Trouble);
            StateHasChanged();
            return "";
        }

        stage = Stage.Arriving;
        doing = $"Taking in {Pages.Say.Count(files, "file", "files")}";
        StateHasChanged();
        return batch.Key;
    }

    /// <summary>Called by the browser while it sends.</summary>
    [JSInvokable]
    public void Sent(double sentShare, string words)
    {
        if (stage != Stage.Arriving) return;
        (share, doing) = (sentShare, words);
        StateHasChanged();
    }

    /// <summary>Called by the browser: a file was refused.</summary>
    [JSInvokable]
    public void Refused(string name, JsonElement why)
    {
        string Part(string key) => why.ValueKind == JsonValueKind.Object && why.TryGetProperty(key, out var text) && text.GetString() is { Length: > 0 } part ? part : "no answer";
        troubles.Add(why.ValueKind == JsonValueKind.Object
            ? new Trouble(Part("title"), Part("found"), Part("expected"), Part("where"), Part("likelyCause"))
            : new Trouble($"cannot take {name} in", "the connection broke", "the whole file", name, "the program was stopped, or the file changed while it was read"));
        StateHasChanged();
    }

    /// <summary>Called by the browser: all that could be sent was sent.</summary>
    [JSInvokable]
    public Task ArrivedAsync() => stage == Stage.Arriving ? ReadAllAsync() : Task.CompletedTask;

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
            foreach (var recording in recordings.Where(r => r.IsInDoubt || r.Preview is null).Take(4)) recording.IsOpen = true;
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

    private async Task StoreAllAsync()
    {
        troubles.Clear();
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
        await Stored.InvokeAsync();
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
            (recording.Trouble, recording.IsOpen) = (e.Trouble, true);
        }
        catch (StoreException e)
        {
            (recording.Trouble, recording.IsOpen) = (TroubleBox.Of(e, $"cannot store {recording.Name}"), true);
        }
    }

    /// <summary>Files that wait and answers that were typed are lost when the page is left: not without a word.</summary>
    private async Task AskBeforeLeavingAsync(LocationChangingContext leaving)
    {
        if (!HoldsSomething || module is null) return;
        if (!await module.InvokeAsync<bool>("ask", "Leave this page? The files that wait here are put aside, and nothing more of them is stored.")) leaving.PreventNavigation();
    }

    private bool HoldsSomething => IsAtWork || (stage == Stage.Looking && recordings.Count > 0);

    private async Task CancelAsync()
    {
        if (stage == Stage.Arriving)
        {
            if (module is not null) await module.InvokeVoidAsync("cancel");
            End(null);
            said = "Stopped. Nothing was stored.";
            return;
        }

        if (work is { } running) await running.CancelAsync();
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

    private async Task SayAsync(string words, double of)
    {
        (doing, share) = (words, of);
        StateHasChanged();
        await Task.Yield();
    }

    private CancellationToken Begin()
    {
        work?.Dispose();
        work = new CancellationTokenSource();
        said = "";
        return work.Token;
    }

    private void Reset()
    {
        CloseBatch();
        troubles.Clear();
        recordings.Clear();
        settingsFiles.Clear();
        common = new DescriptionForm();
        (stage, share, doing, said) = (Stage.Waiting, 0, "", "");
    }

    private void End(Trouble? trouble)
    {
        Reset();
        if (trouble is not null) troubles.Add(trouble);
        StateHasChanged();
    }

    private void CloseBatch()
    {
        if (batch is not null) Desk.Close(batch);
        batch = null;
    }

    public async ValueTask DisposeAsync()
    {
        if (work is not null) await work.CancelAsync();
        work?.Dispose();
        CloseBatch();
        self?.Dispose();
        try
        {
            if (module is not null) await module.DisposeAsync();
        }
        catch (JSDisconnectedException)
        {
            // The browser is gone, and its module with it.
        }
    }
}
