namespace Stillwatch.Storage.Settings;

/// <summary>Whom settings are for.</summary>
public enum SettingsScope
{
    /// <summary>All patients of a category on a unit.</summary>
    UnitDefault,

    /// <summary>One patient.</summary>
    Patient,
}

/// <summary>Settings that a person accepted, to be written down.</summary>
public sealed record NewSettingsEntry
{
    public required SettingsScope Scope { get; init; }

    /// <summary>A category's name as the presets have it.</summary>
    public required string Category { get; init; }

    public string? Unit { get; init; }

    /// <summary>A pseudonym; only for <see cref="SettingsScope.Patient"/>.</summary>
    public string? Patient { get; init; }

    public required string Name { get; init; }

    /// <summary>A settings file (stillwatch.settings/1) with one set.</summary>
    public required string SettingsJson { get; init; }

    public required string Why { get; init; }

    /// <summary>Who takes responsibility on the ward, as typed; the actor is who wrote it down.</summary>
    public required string AcceptedBy { get; init; }

    /// <summary>When it has to be looked at again; null: no end was named.</summary>
    public DateTimeOffset? ValidUntil { get; init; }

    /// <summary>The numbers that stood beside the decision; null: none.</summary>
    public string? EvidenceJson { get; init; }
}

/// <summary>A line of the settings' history: who, when, from, to, why.</summary>
/// <param name="Number">That of its line in the audit: greater than that of every line written before, whatever the clock said.</param>
/// <param name="Content">As it was written down.</param>
/// <param name="PreviousSettingsJson">What was in force before for the same scope, unit, category and patient; null: nothing was written down.</param>
/// <param name="At">When, as the clock said.</param>
/// <param name="By">Who wrote it down.</param>
public sealed record SettingsEntry(long Number, NewSettingsEntry Content, string? PreviousSettingsJson, DateTimeOffset At, Actor By);

/// <summary>Settings and their history. Lines are only ever added.</summary>
public interface ISettingsHistory
{
    /// <summary>Writes a line down; blanks around unit and patient do not count, and empty ones are none.</summary>
    /// <exception cref="ArgumentException">Nobody accepted it; settings for a patient name none, or a unit default names one.</exception>
    Task<SettingsEntry> AddAsync(NewSettingsEntry entry, Actor actor, CancellationToken cancellation = default);

    /// <summary>The newest first.</summary>
    Task<IReadOnlyList<SettingsEntry>> HistoryAsync(CancellationToken cancellation = default);

    /// <summary>The last line of that scope, unit, category and patient, whether or not its time has run out; null: there is none.</summary>
    Task<SettingsEntry?> LastAsync(SettingsScope scope, string category, string? unit, string? patient, CancellationToken cancellation = default);
}
