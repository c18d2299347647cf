using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using Stillwatch.App.Commands;
using Stillwatch.App.Pages;
using Stillwatch.App.Workbench.Layout;
using Stillwatch.App.Workbench.Library;
using Stillwatch.App.Workbench.Recordings;
using Stillwatch.Reports.Model;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;

namespace Stillwatch.App.Workbench.Review;

/// <summary>Looking back over one recording: pictures, events, review marks, trend, exposure, signals.</summary>
public sealed partial class RecordingReviewPage : IAsyncDisposable
{
    private const long LeastWindow = 2000;
    private const long FirstWindow = 8 * 3_600_000;

    private static readonly (int Seconds, string Words)[] Lengths = [(60, "1 min"), (600, "10 min"), (3600, "1 h"), (8 * 3600, "8 h")];
    private static readonly (string Name, string Words)[] Tabs = [("events", "Events and marks"), ("trend", "Trend table"), ("exposure", "Exposure"), ("settings", "Settings and signals"), ("blind", "Look without alarms")];

    private readonly string key = StripDesk.NewKey();
    private ReviewScene? scene;
    private MarkBook? book;
    private Trouble? trouble;
    private bool isGone;
    private string tab = "events";
    private IReadOnlyList<ListedEvent> events = [];
    private EventFilter filter;
    private int current = -1;
    private TimeSlice? window;
    private TimeSlice? selection;
    private string clock = "";
    private string clockWhyNot = "";
    private string saying = "";
    private SettingsForm tried = new();
    private Trouble? tryTrouble;
    private bool isTrying;
    private ElementReference root;
    private IJSObjectReference? module;
    private IJSObjectReference? strip;
    private DotNetObjectReference<RecordingReviewPage>? self;
    private bool hasLeft;

    [Parameter] public string Id { get; set; } = "";

    /// <summary>Seconds on the recording's own time line that another page led to; null: the whole is shown first.</summary>
    [SupplyParameterFromQuery(Name = "at")] private double? At { get; set; }

    [Inject] private IWorkbenchStore Store { get; set; } = null!;

    [Inject] private RecordingLibrary Library { get; set; } = null!;

    [Inject] private StripDesk Desk { get; set; } = null!;

    [Inject] private IJSRuntime Js { get; set; } = null!;

    // The first answer, before there is a circuit, would compute everything a second time.
    protected override Task OnInitializedAsync() => RendererInfo.IsInteractive ? LoadAsync() : Task.CompletedTask;

    private Task LoadAsync() => TryDoAsync("cannot open this recording", async () =>
    {
        var stored = RecordingId.TryParse(Id, out var id) ? await Store.Recordings.GetAsync(id) : null;
        isGone = stored is null;
        if (stored is null) return;
        book = new MarkBook(Store.Marks, stored.Id, Actor.Local);
        await book.LoadAsync();
        looks = await Store.Marks.BlindLooksAsync(stored.Id);
        var loaded = await Library.LoadAsync(stored);
        var first = await Task.Run(() => ReviewScenes.Of(stored, loaded, []));
        tried = first.InForce is { } inForce ? SettingsForm.Of(inForce.Replay.Settings) : SettingsForm.Of(loaded.Category);
        tried.Name = "Tried";
        Take(first);
    });

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (scene is null || strip is not null || self is not null) return;
        self = DotNetObjectReference.Create(this);
        module = await Js.InvokeAsync<IJSObjectReference>("import", "./strip.js");
        if (hasLeft)
        {
            await module.DisposeAsync(); // the person went on before the script had come
            return;
        }

        var whole = scene.Whole;
        long to = Math.Min(whole.End.Milliseconds, whole.Start.Milliseconds + (whole.Length.Milliseconds > FirstWindow * 3 / 2 ? FirstWindow : whole.Length.Milliseconds));
        strip = await module.InvokeAsync<IJSObjectReference>("open", root, self, new
        {
            url = $"/figures/strip/{Id}?view={key}",
            plotLeft = StripView.PlotLeft,
            margin = StripView.Margin,
            least = LeastWindow,
            whole = new { from = whole.Start.Milliseconds, to = whole.End.Milliseconds },
            from = whole.Start.Milliseconds,
            to,
        });
        await GoWhereToldAsync();
        if (hasLeft) return;
        string name = await module.InvokeAsync<string>("readReviewer");
        if (name.Length == 0 || hasLeft) return;
        reviewer = name;
        await ReviewerChangedAsync();
    }

    /// <summary>To the event that lies where another page led to, else to that moment itself.</summary>
    private async Task GoWhereToldAsync()
    {
        if (At is not { } seconds || !double.IsFinite(seconds) || Math.Abs(seconds) > 1e9) return;
        var moment = new SampleTime((long)Math.Round(seconds * 1000));
        if (IndexAt(new TimeSlice(moment, moment + new Duration(1))) is var index and >= 0) await GoToEventAsync(index);
        else await GoToAsync(new TimeSlice(moment - Duration.FromSeconds(150), moment + Duration.FromSeconds(150)));
        StateHasChanged();
    }

    /// <summary>From now on the page shows this scene.</summary>
    private void Take(ReviewScene next)
    {
        scene = next;
        Desk.Show(key, next);
        events = next.Model is { } model ? ListedEvent.Of(model, next.Tried ?? model.Replay, filter, next.Marks) : [];
        if (current >= events.Count) current = -1;
    }

    private void FilterBy(EventFilter wanted)
    {
        filter = wanted;
        current = -1;
        Take(scene!);
    }

    private async Task ShowAsync(ReviewScene next)
    {
        Take(next);
        if (strip is not null) await strip.InvokeVoidAsync("refresh");
    }

    /// <summary>Called by the browser: the window has come to rest.</summary>
    [JSInvokable]
    public void WindowChanged(long from, long to)
    {
        window = new TimeSlice(new SampleTime(from), new SampleTime(to));
        StateHasChanged();
    }

    /// <summary>Called by the browser: a stretch was drawn with Shift.</summary>
    [JSInvokable]
    public async Task Selected(long from, long to)
    {
        await SelectAsync(new TimeSlice(new SampleTime(from), new SampleTime(to)));
        StateHasChanged();
    }

    private async Task SelectAsync(TimeSlice? chosen)
    {
        selection = chosen;
        current = -1;
        await ShowAsync(scene! with { Selection = chosen });
    }

    private async Task GoToAsync(TimeSlice to)
    {
        if (strip is not null) await strip.InvokeVoidAsync("show", to.Start.Milliseconds, to.End.Milliseconds);
    }

    private async Task GoToEventAsync(int index)
    {
        if (index < 0 || index >= events.Count) return;
        var span = events[index].Span;
        selection = span;
        await ShowAsync(scene! with { Selection = span });
        current = index;
        long length = Math.Max(span.Length.Milliseconds * 4, 300_000), middle = (span.Start.Milliseconds + span.End.Milliseconds) / 2;
        await GoToAsync(new TimeSlice(new SampleTime(middle - length / 2), new SampleTime(middle + length / 2)));
    }

    private async Task GoToClockAsync()
    {
        var at = window ?? scene!.Whole;
        var middle = new SampleTime((at.Start.Milliseconds + at.End.Milliseconds) / 2);
        if (ClockFinder.Find(clock, scene!.Stored.Start, scene.Whole, middle, out clockWhyNot) is not { } time) return;
        // Where all of it is in view, going there means coming nearer: otherwise nothing would be seen to happen.
        long length = Math.Min(at.Length.Milliseconds, scene.Whole.Length.Milliseconds / 5), half = Math.Clamp(length, LeastWindow, 1_800_000) / 2;
        saying = $"At {scene.Stored.Start.ClockAt(time)}.";
        await GoToAsync(new TimeSlice(new SampleTime(time.Milliseconds - half), new SampleTime(time.Milliseconds + half)));
    }

    private Task ToggleAsync(int channel)
    {
        var hidden = scene!.Hidden.ToHashSet();
        if (!hidden.Remove(channel)) hidden.Add(channel);
        return ShowAsync(scene with { Hidden = hidden });
    }

    /// <summary>Replays what is typed, or nothing.</summary>
    private async Task TryAsync(bool wanted)
    {
        tryTrouble = null;
        isTrying = true;
        try
        {
            var named = wanted ? tried.ToSettings() : null;
            var before = scene!;
            await ShowAsync(await Task.Run(() => ReviewScenes.WithTried(before, named)));
        }
        catch (StopException e)
        {
            tryTrouble = e.Trouble;
        }

        isTrying = false;
    }

    private string WindowWords()
    {
        if (scene is null || window is not { } w) return "";
        var start = scene.Stored.Start;
        return $"{start.ClockAt(w.Start)} – {start.ClockAt(w.End)}, {Say.Length(w.Length)}";
    }

    private static string Who(ReviewScene s)
    {
        var parts = new List<string> { s.Stored.Description.Patient ?? "patient not known", s.Stored.Description.Category is null ? "category not known" : RecordingLine.Category(s.Stored) };
        if (s.Stored.Description.Unit is { } unit) parts.Add(unit);
        parts.Add(s.Stored.Start.IsKnown ? $"from {RecordingLine.Start(s.Stored)}" : "start not known");
        parts.Add(Say.Length(s.Whole.Length));
        return string.Join(" · ", parts);
    }

    private static string WhyNoEvents(ReviewScene s) =>
        s.Model is null ? "Without SpO2 there are no events." : s.Model.Review.Events is null ? string.Join(" ", s.Model.Review.NotApplicable) : "No desaturation event and no must-catch event was found.";

    private async Task TryDoAsync(string title, Func<Task> work)
    {
        try
        {
            trouble = null;
            await work();
        }
        catch (StopException e)
        {
            trouble = e.Trouble;
        }
        catch (StoreException e)
        {
            trouble = TroubleBox.Of(e, title);
        }
    }

    public async ValueTask DisposeAsync()
    {
        hasLeft = true;
        Desk.Close(key);
        try
        {
            if (strip is not null)
            {
                await strip.InvokeVoidAsync("close");
                await strip.DisposeAsync();
            }

            if (module is not null) await module.DisposeAsync();
        }
        catch (JSDisconnectedException)
        {
            // The browser is gone, and what was in it too.
        }

        self?.Dispose();
    }
}
