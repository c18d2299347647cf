using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.App.Pages;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Settings;

namespace Stillwatch.App.Workbench.Library;

/// <summary>Finds the settings in force and the unit's default for a category. What is invented never speaks for what is real.</summary>
internal sealed class SettingsFinder(IWorkbenchStore store, TimeProvider clock)
{
    /// <summary>
    /// What was in force while these were recorded, as said of these recordings themselves; null: nobody said, and nothing stands in for it.
    /// Where real and invented recordings are asked together, only the real ones count.
    /// </summary>
    /// <param name="recordings">Recordings of one group: what others had says nothing of these.</param>
    /// <param name="category">Whose set of a file is meant.</param>
    /// <exception cref="StopException">What was said is no settings file.</exception>
    public static KnownSettings? Present(IReadOnlyList<StoredRecording> recordings, CategoryChoice category)
    {
        var asked = recordings.Any(r => !r.IsInvented) ? recordings.Where(r => !r.IsInvented).ToList() : recordings;
        var said = asked
            .Where(r => r.Description.SettingsInForceJson is not null)
            .Select(r => SettingsFile.OfText($"the settings said to be in force during {r.Name}", r.Description.SettingsInForceJson!).For(category))
            .OfType<NamedSettings>()
            .GroupBy(s => s.Settings)
            .OrderByDescending(g => g.Count())
            .ToList();
        if (said.Count == 0) return null;
        int silent = asked.Count - said.Sum(g => g.Count());
        string? doubt = said.Count == 1 && silent == 0 ? null
            : $"Of {Say.Count(asked.Count, "recording", "recordings")}, {string.Join("; ", said.Select(g => $"{g.Count()} had {Say.Settings(g.Key)}"))}"
                + $"{(silent > 0 ? $"; of {silent} nothing is known" : "")}. {(said.Count > 1 ? "The first of these stands" : "These stand")} for all.";
        return new KnownSettings(said[0].First(), "as said of the recordings", doubt);
    }

    /// <summary>
    /// The unit's default: as last decided, else the category's starting settings. A decision on invented data is a default for invented
    /// recordings alone, and the other way round; one whose time has run out is said and not used.
    /// </summary>
    /// <param name="category">The category.</param>
    /// <param name="unit">The unit; null: none in particular.</param>
    /// <param name="isInvented">Whether it is asked for invented recordings.</param>
    /// <param name="cancellation">Ends it.</param>
    /// <exception cref="StopException">The entry is no settings file.</exception>
    public async Task<KnownSettings> DefaultAsync(CategoryChoice category, string? unit, bool isInvented, CancellationToken cancellation)
    {
        string? named = string.IsNullOrWhiteSpace(unit) ? null : unit.Trim();
        var newest = DecisionHistory.Of(await store.Settings.HistoryAsync(cancellation), isInvented)
            .FirstOrDefault(e => e.Content.Scope == SettingsScope.UnitDefault && e.Content.Category == category.Name && e.Content.Unit == named);
        if (newest is not { Entry: var entry }) return Starting(category, "for the unit has written down none of its own");
        string written = $"written down {entry.At:yyyy-MM-dd}, accepted by {entry.Content.AcceptedBy}{string.Concat(newest.Grounds.InWords.Select(w => $"; {w}"))}";
        if (entry.Content.ValidUntil is { } until && until < clock.GetUtcNow())
            return Starting(category, $"for the unit’s own ({written}) ended on {until:yyyy-MM-dd}; look at it again");
        return SettingsFile.OfText($"entry {entry.Number} of the settings' history", entry.Content.SettingsJson).For(category) is { } set
            ? new KnownSettings(set, written) { IsInvented = newest.Grounds.IsInvented }
            : Starting(category, $"for the unit’s own ({written}) has no set for this category");
    }

    /// <summary>The same where no recording is asked about: a unit that has only invented recordings is an invented one.</summary>
    /// <exception cref="StopException">The entry is no settings file.</exception>
    public async Task<KnownSettings> DefaultAsync(CategoryChoice category, string? unit, CancellationToken cancellation) =>
        await DefaultAsync(category, unit, await IsInventedAsync(unit, patient: null, cancellation), cancellation);

    /// <summary>Whether the recordings of a unit, or where none is named of a patient, are all invented; where there are none, they are not.</summary>
    public async Task<bool> IsInventedAsync(string? unit, string? patient, CancellationToken cancellation)
    {
        string? ward = string.IsNullOrWhiteSpace(unit) ? null : unit.Trim(), whose = string.IsNullOrWhiteSpace(patient) ? null : patient.Trim();
        if (ward is null && whose is null) return false;
        var own = (await store.Recordings.FindAsync(new RecordingFilter(), cancellation)).Where(r => ward is null ? r.Description.Patient == whose : r.Description.Unit == ward).ToList();
        return own.Count > 0 && own.All(r => r.IsInvented);
    }

    private static KnownSettings Starting(CategoryChoice category, string because) => new(
        new NamedSettings($"starting settings: {category.Preset.Describes}", category.Name, category.Preset.ToSettings()), $"the category's starting settings, {because}")
    { IsWrittenDown = false };
}
