using Microsoft.AspNetCore.Components;
using Stillwatch.App.Commands;
using Stillwatch.App.Pages;
using Stillwatch.App.Workbench.Layout;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;

namespace Stillwatch.App.Workbench.Recordings;

/// <summary>The library as a table, and the door by which recordings come in.</summary>
public sealed partial class RecordingsPage
{
    private IReadOnlyList<StoredRecording>? all;
    private IReadOnlyList<DamagedRecording> damaged = [];
    private Trouble? trouble;
    private bool isBringing;
    private string text = "";
    private string patient = "";
    private string category = "";
    private string unit = "";
    private int most = 200;

    [Inject] private IWorkbenchStore Store { get; set; } = null!;

    [Inject] private NavigationManager Address { get; set; } = null!;

    private bool IsFiltered => text.Trim().Length > 0 || patient.Length > 0 || category.Length > 0 || unit.Length > 0;

    protected override Task OnInitializedAsync()
    {
        var asked = Microsoft.AspNetCore.WebUtilities.QueryHelpers.ParseQuery(new Uri(Address.Uri).Query);
        string Asked(string name) => asked.TryGetValue(name, out var value) ? value.ToString() : "";
        (text, patient, category, unit) = (Asked("find"), Asked("patient"), Asked("category"), Asked("unit"));
        return LoadAsync();
    }

    /// <summary>The choice stands in the address: whoever comes back from a recording finds the list as it was.</summary>
    private void Remember()
    {
        static object? Said(string word) => word.Length > 0 ? word : null;
        Address.NavigateTo(Address.GetUriWithQueryParameters(new Dictionary<string, object?> { ["find"] = Said(text), ["patient"] = Said(patient), ["category"] = Said(category), ["unit"] = Said(unit) }), replace: true);
    }

    private async Task LoadAsync()
    {
        try
        {
            (all, damaged) = await Store.Recordings.LookAsync();
            trouble = null;
        }
        catch (StoreException e)
        {
            trouble = TroubleBox.Of(e, "cannot look into the library");
        }
    }

    private async Task TakeOutAsync(DamagedRecording one)
    {
        try
        {
            await Store.Recordings.RemoveAsync(one.Id!.Value, $"it could not be read: {one.Why}", Actor.Local);
        }
        catch (StoreException e)
        {
            trouble = TroubleBox.Of(e, $"cannot take {one.Name} out");
            return;
        }

        await LoadAsync();
    }

    private async Task StoredAsync()
    {
        isBringing = true; // what was stored and what was not is still to be read
        await LoadAsync();
    }

    private string Answer()
    {
        if (all!.Count == 0) return "Nothing is here yet.";
        int patients = all.Select(r => r.Description.Patient).OfType<string>().Distinct().Count(), unnamed = all.Count(r => r.Description.Patient is null), invented = all.Count(r => r.IsInvented);
        var hours = all.Aggregate(Time.Duration.Zero, (sum, r) => sum + r.Span.Length);
        string words = Say.Count(all.Count, "recording", "recordings");
        if (patients > 0) words += $" of {Say.Count(patients, "patient", "patients")}";
        if (unnamed > 0 && patients > 0) words += $" and {unnamed} of patients not known";
        words += $"; {Say.Length(hours)} in all.";
        return invented == 0 ? words : invented == all.Count ? words + (invented == 1 ? " It is invented." : " All of them are invented.") : words + $" {invented} of them {(invented == 1 ? "is" : "are")} invented.";
    }

    private IReadOnlyList<string> Distinct(Func<StoredRecording, string?> of) => [.. all!.Select(of).OfType<string>().Distinct().Order(StringComparer.OrdinalIgnoreCase)];

    private List<StoredRecording> Shown() =>
    [
        .. all!.Where(r => patient.Length == 0 || r.Description.Patient == patient)
            .Where(r => category.Length == 0 || r.Description.Category == category)
            .Where(r => unit.Length == 0 || r.Description.Unit == unit)
            .Where(r => text.Trim().Length == 0 || new[] { r.Name, r.Description.Patient, r.Description.Unit, r.Description.Note }.Any(t => t?.Contains(text.Trim(), StringComparison.OrdinalIgnoreCase) == true)),
    ];

    private void ShowAll()
    {
        (text, patient, category, unit) = ("", "", "", "");
        Remember();
    }
}
