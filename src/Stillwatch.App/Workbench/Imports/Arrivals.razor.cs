using System.Text.Json;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Routing;
using Microsoft.JSInterop;
using Stillwatch.App.Commands;
using Stillwatch.Storage;

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

    private const int MostOpen = 4;

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
    private bool hasLeft;
    private string doing = "";
    private double share;
    private string said = "";
    private ElementReference answerPlace;
    private bool goesToAnswer;

    [Inject] private ArrivalDesk Desk { get; set; } = null!;

    [Inject] private ImportService Import { get; set; } = null!;

    [Inject] private IWorkbenchStore Store { get; set; } = null!;

    [Inject] private NavigationManager Address { get; set; } = null!;

    [Inject] private IJSRuntime Js { get; set; } = null!;

    /// <summary>Something was stored.</summary>
    [Parameter] public EventCallback Stored { get; set; }

    /// <summary>Whether the library holds nothing yet: the invitation is then larger.</summary>
    [Parameter] public bool IsFirst { get; set; }

    /// <summary>Of one file everything is said at the file itself.</summary>
    private bool HasCommon => recordings.Count > 1 || settingsFiles.Count > 0;

    private bool IsAtWork => stage is Stage.Arriving or Stage.Reading or Stage.Storing;

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (goesToAnswer)
        {
            goesToAnswer = false;
            await answerPlace.FocusAsync(); // the button that was pressed is gone, and whoever works by keyboard would begin at the top again
        }

        if (!firstRender) return;
        self = DotNetObjectReference.Create(this);
        module = await Js.InvokeAsync<IJSObjectReference>("import", "./arrivals.js");
        if (hasLeft)
        {
            await module.DisposeAsync(); // the person went on before the script had come
            return;
        }

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

    /// <summary>Files that wait and answers that were typed are lost when the page is left: not without a word.</summary>
    private async Task AskBeforeLeavingAsync(LocationChangingContext leaving)
    {
        // A filter of the library below changes the address and leaves nothing.
        if (!HoldsSomething || module is null || Address.ToAbsoluteUri(leaving.TargetLocation).AbsolutePath == new Uri(Address.Uri).AbsolutePath) return;
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
        hasLeft = true;
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
