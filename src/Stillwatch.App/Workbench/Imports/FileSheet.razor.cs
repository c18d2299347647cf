using System.Globalization;
using Microsoft.AspNetCore.Components;
using Stillwatch.App.Pages;
using Stillwatch.Signals;
using Stillwatch.Storage.Recordings;

namespace Stillwatch.App.Workbench.Imports;

/// <summary>One file before it is stored: what is in it, what is in doubt, what is said of it.</summary>
public sealed partial class FileSheet
{
    private const int MostChannels = 24;

    private bool isReading;

    [Parameter, EditorRequired] public ArrivedRecording Recording { get; set; } = null!;

    /// <summary>Whether nothing is said of several files together.</summary>
    [Parameter] public bool IsAlone { get; set; }

    [Parameter, EditorRequired] public IReadOnlyList<string> OtherFiles { get; set; } = [];

    [Parameter, EditorRequired] public IReadOnlyDictionary<string, string> Texts { get; set; } = new Dictionary<string, string>();

    [Parameter, EditorRequired] public Func<Task> ReadAgain { get; set; } = null!;

    [Parameter] public EventCallback Changed { get; set; }

    private string State => Recording switch
    {
        { Outcome: StoreOutcome.Stored } => "stored",
        { Outcome: StoreOutcome.AlreadyThere } or { IsThere: true } => "there already",
        { Preview: null } => "cannot be read",
        { IsLeftOut: true } => "left out",
        { IsToBeReadAgain: true } => "to be read again",
        { IsInDoubt: true } => "needs a word from you",
        _ => "can be stored",
    };

    private string Summary
    {
        get
        {
            if (Recording.Preview is not { } p) return "Not read. The other files are not held up by it.";
            string spO2 = p.SpO2 is { } column ? $"SpO2 from \"{column.Label}\"" : "no SpO2";
            int doubts = p.Issues.Count(i => i.Severity >= IssueSeverity.Doubt);
            string patient = Recording.Description.Patient.Length > 0 ? $"of {Recording.Description.Patient} · " : "";
            return $"{patient}{p.Format} · {Say.Length(p.Length)} · start {p.Start} · {spO2}{(doubts > 0 ? $" · {Say.Count(doubts, "doubt", "doubts")}" : "")}{(p.IsInvented ? " · invented" : "")}";
        }
    }

    private string Ask(ImportQuestion question) => question switch
    {
        ImportQuestion.WhichSpO2 => $"Several columns are SpO2: {string.Join(", ", Recording.Preview!.Channels.Where(c => c.Kind == ChannelKind.SpO2).Select(c => c.Label))}. \"{Recording.Preview.SpO2!.Label}\" is the first that holds numbers, and would be used. Is it the right one?",
        ImportQuestion.IsThereSpO2 => "No column was recognised as SpO2. If one is, say which, below. If there is none, the recording is stored without, and nothing can be reviewed or tuned on it.",
        _ => $"Day and month of its dates can be exchanged. Read as they stand, it starts {Recording.Preview!.Start}. Is that so?",
    };

    private static string Kind(ChannelPreview channel, ImportPreview preview) =>
        channel.Kind == ChannelKind.SpO2 && !ReferenceEquals(channel, preview.SpO2) ? "SpO2, not the one in use" : Say.Kind(channel.Kind);

    private static IEnumerable<string> Labels(ImportPreview preview) => preview.Channels.Select(c => c.Label).Where(l => !l.Contains('"')).Distinct();

    private async Task AgainAsync()
    {
        isReading = true;
        await ReadAgain();
        isReading = false;
        await Changed.InvokeAsync();
    }

    // Letters, digits and hyphens, whatever the file is called.
    private string Id(string field) => $"f{string.GetHashCode(Recording.Name, StringComparison.Ordinal).ToString("x8", CultureInfo.InvariantCulture)}-{field}";
}
