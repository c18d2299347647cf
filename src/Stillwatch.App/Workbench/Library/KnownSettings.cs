using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Settings;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Workbench.Library;

/// <summary>Settings with where they were learnt from.</summary>
/// <param name="Set">The whole set.</param>
/// <param name="From">Where it comes from, in words.</param>
/// <param name="Doubt">What speaks against taking it for all; null: nothing.</param>
public sealed record KnownSettings(NamedSettings Set, string From, string? Doubt = null)
{
    /// <summary>Whether somebody wrote it down; false: it is the category's starting settings.</summary>
    public bool IsWrittenDown { get; init; } = true;

    /// <summary>What it says of low SpO2; null: its low limit is off.</summary>
    public CandidateSettings? Low => Set.Settings.ForSpO2Low();
}

/// <summary>Finds the settings in force and the unit's default for a category.</summary>
internal sealed class SettingsFinder(IWorkbenchStore store)
{
    /// <summary>What was in force while these were recorded: as said of the recordings, else as written down for the unit; null: nobody said.</summary>
    /// <exception cref="StopException">What was said is no settings file.</exception>
    public async Task<KnownSettings?> PresentAsync(IReadOnlyList<StoredRecording> recordings, CategoryChoice category, string? unit, CancellationToken cancellation)
    {
        var said = recordings
            .Select(r => (r.Name, Json: r.Description.SettingsInForceJson))
            .Where(r => r.Json is not null)
            .Select(r => SettingsFile.OfText($"the settings said to be in force during {r.Name}", r.Json!).For(category))
            .OfType<NamedSettings>()
            .GroupBy(s => s.Settings)
            .OrderByDescending(g => g.Count())
            .ToList();
        if (said.Count > 0)
        {
            int count = said[0].Count();
            string? doubt = said.Count > 1 || count < recordings.Count
                ? $"Said of {count} of {recordings.Count} recordings; {(said.Count > 1 ? "others had other settings" : "of the rest nothing is known")}, and all are compared with these." : null;
            return new KnownSettings(said[0].First(), "as said of the recordings", doubt);
        }

        return await LastAsync(category, unit, cancellation) is { } entry ? OfEntry(entry, category, "as last written down for the unit") : null;
    }

    /// <summary>The unit's default: as last written down, else the category's starting settings.</summary>
    public async Task<KnownSettings> DefaultAsync(CategoryChoice category, string? unit, CancellationToken cancellation) =>
        await LastAsync(category, unit, cancellation) is { } entry && OfEntry(entry, category, $"written down {entry.At:yyyy-MM-dd}, accepted by {entry.Content.AcceptedBy}") is { } own
            ? own
            : new KnownSettings(new NamedSettings($"starting settings: {category.Preset.Describes}", category.Name, category.Preset.ToSettings()), "the category's starting settings, for the unit has written down none of its own") { IsWrittenDown = false };

    /// <exception cref="StopException">The entry is no settings file.</exception>
    public static KnownSettings? OfEntry(SettingsEntry entry, CategoryChoice category, string from) =>
        SettingsFile.OfText($"entry {entry.Number} of the settings' history", entry.Content.SettingsJson).For(category) is { } set ? new KnownSettings(set, from) : null;

    private Task<SettingsEntry?> LastAsync(CategoryChoice category, string? unit, CancellationToken cancellation) =>
        store.Settings.LastAsync(SettingsScope.UnitDefault, category.Name, unit, null, cancellation);
}
