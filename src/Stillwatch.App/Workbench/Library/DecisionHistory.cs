using Stillwatch.Storage.Settings;

namespace Stillwatch.App.Workbench.Library;

/// <summary>A line of the settings' history among those of its own kind.</summary>
/// <param name="Entry">The line.</param>
/// <param name="Grounds">What it stood on.</param>
/// <param name="PreviousSettingsJson">What was written down before it for the same scope, unit, category and patient, on data of the same kind; null: nothing.</param>
internal sealed record WrittenDecision(SettingsEntry Entry, DecisionGrounds Grounds, string? PreviousSettingsJson)
{
    public NewSettingsEntry Content => Entry.Content;
}

/// <summary>
/// The settings' history as recordings of one kind see it: what was decided on invented data does not exist for real patients, not even as
/// what was in force before, and the other way round.
/// </summary>
internal static class DecisionHistory
{
    /// <summary>The newest first.</summary>
    public static IReadOnlyList<WrittenDecision> Of(IReadOnlyList<SettingsEntry> history, bool isInvented)
    {
        var last = new Dictionary<(SettingsScope, string, string?, string?), string>();
        var own = new List<WrittenDecision>();
        foreach (var entry in history.OrderBy(e => e.Number))
        {
            var grounds = DecisionGrounds.Of(entry);
            if (grounds.IsInvented != isInvented) continue;
            var whom = (entry.Content.Scope, entry.Content.Category, entry.Content.Unit, entry.Content.Patient);
            own.Add(new WrittenDecision(entry, grounds, last.GetValueOrDefault(whom)));
            last[whom] = entry.Content.SettingsJson;
        }

        own.Reverse();
        return own;
    }
}
