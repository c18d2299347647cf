using Microsoft.AspNetCore.Components;
using Stillwatch.App.Commands;
using Stillwatch.App.Workbench.Imports;
using Stillwatch.App.Workbench.Review;
using Stillwatch.App.Workbench.Layout;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;

namespace Stillwatch.App.Workbench.Recordings;

/// <summary>One recording: what is said of it, what it was read from, and how to take it out.</summary>
public sealed partial class AboutPage
{
    private StoredRecording? stored;
    private IReadOnlyList<string> attachments = [];
    private DescriptionForm form = new();
    private Trouble? trouble;
    private bool isGone;
    private string said = "";
    private string why = "";
    private string settingsWords = "";

    [Parameter] public string Id { get; set; } = "";

    [Inject] private IWorkbenchStore Store { get; set; } = null!;

    [Inject] private NavigationManager Navigation { get; set; } = null!;

    protected override Task OnParametersSetAsync() => TryAsync("cannot open this recording", async () =>
    {
        stored = RecordingId.TryParse(Id, out var id) ? await Store.Recordings.GetAsync(id) : null;
        isGone = stored is null;
        if (stored is null) return;
        attachments = [.. (await Store.Recordings.AttachmentsAsync(id)).Select(a => $"{a.Role}: {a.Name}, {a.Content.Length:#,0} bytes")];
        Fill();
    });

    private Task SaveAsync() => TryAsync("cannot write this down", async () =>
    {
        said = "";
        await Store.Recordings.DescribeAsync(stored!.Id, form.ToDescription(), Actor.Local);
        stored = await Store.Recordings.GetAsync(stored.Id);
        isGone = stored is null;
        if (stored is not null) Fill();
        said = "Written down.";
    });

    private Task RemoveAsync() => TryAsync("cannot take it out", async () =>
    {
        await Store.Recordings.RemoveAsync(stored!.Id, why.Trim(), Actor.Local);
        Navigation.NavigateTo("");
    });

    private void Fill()
    {
        form = DescriptionForm.Of(stored!.Description);
        settingsWords = SettingsForm.Kept(stored.Description.SettingsInForceJson) is { } kept ? $"\"{kept.Name}\": {SettingsForm.InWords(kept)}" : "";
    }

    private async Task TryAsync(string title, Func<Task> work)
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
}
