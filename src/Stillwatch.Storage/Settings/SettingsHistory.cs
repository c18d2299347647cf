using System.Globalization;
using Stillwatch.Storage.Audit;
using Stillwatch.Storage.Sql;

namespace Stillwatch.Storage.Settings;

internal sealed class SettingsHistory(Database database, TimeProvider clock) : ISettingsHistory
{
    public Task<SettingsEntry> AddAsync(NewSettingsEntry entry, Actor actor, CancellationToken cancellation = default)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(entry.AcceptedBy);
        if ((entry.Scope == SettingsScope.Patient) != !string.IsNullOrWhiteSpace(entry.Patient))
            throw new ArgumentException($"Found settings for {ScopeText(entry.Scope)} with the patient \"{entry.Patient}\", expected a patient just where they are for one.", nameof(entry));
        var content = entry with { Unit = OrNull(entry.Unit), Patient = OrNull(entry.Patient) };
        return database.ChangeAsync(
            async session =>
            {
                // Before looking for the last line, so that each line's "before" is the line before it.
                await database.LockAuditAsync(session).ConfigureAwait(false);
                var last = await LastAsync(session, content.Scope, content.Category, content.Unit, content.Patient).ConfigureAwait(false);
                var detail = new
                {
                    scope = ScopeText(content.Scope),
                    content.Category,
                    content.Unit,
                    content.Patient,
                    content.Name,
                    from = last?.SettingsJson is { } before ? StoredText.Back(before) : null,
                    to = content.SettingsJson,
                    content.Why,
                    content.AcceptedBy,
                    content.ValidUntil,
                    content.EvidenceJson,
                };
                var (number, at) = await AuditChain.AddAsync(session, clock, actor, "settings.accepted", n => $"settings {n}", detail).ConfigureAwait(false);
                var row = new SettingsRow
                {
                    Number = number,
                    Scope = ScopeText(content.Scope),
                    Category = StoredText.Of(content.Category),
                    Unit = StoredText.OfOptional(content.Unit),
                    Patient = StoredText.OfOptional(content.Patient),
                    Name = StoredText.Of(content.Name),
                    SettingsJson = StoredText.Of(content.SettingsJson),
                    PreviousSettingsJson = last?.SettingsJson,
                    Why = StoredText.Of(content.Why),
                    AcceptedBy = StoredText.Of(content.AcceptedBy),
                    ValidUntil = content.ValidUntil?.ToString("O", CultureInfo.InvariantCulture),
                    EvidenceJson = StoredText.OfOptional(content.EvidenceJson),
                    WrittenAt = StoredTime.Of(at),
                    WrittenBy = StoredText.Of(actor.ToString() ?? ""),
                };
                await session.RunAsync("settings/add", row).ConfigureAwait(false);
                return Entry(row);
            },
            cancellation);
    }

    public async Task<IReadOnlyList<SettingsEntry>> HistoryAsync(CancellationToken cancellation = default)
    {
        var rows = await database.ReadAsync(session => session.ReadAsync<SettingsRow>("settings/history"), cancellation).ConfigureAwait(false);
        return Understood(rows);
    }

    public async Task<SettingsEntry?> LastAsync(SettingsScope scope, string category, string? unit, string? patient, CancellationToken cancellation = default)
    {
        var row = await database.ReadAsync(session => LastAsync(session, scope, category, OrNull(unit), OrNull(patient)), cancellation).ConfigureAwait(false);
        return row is null ? null : Understood([row])[0];
    }

    private IReadOnlyList<SettingsEntry> Understood(IReadOnlyList<SettingsRow> rows) => database.Understood(rows, row => $"settings {row.Number}", Entry);

    private static Task<SettingsRow?> LastAsync(Session session, SettingsScope scope, string category, string? unit, string? patient) => session.FirstAsync<SettingsRow>(
        "settings/last", new { Scope = ScopeText(scope), Category = StoredText.Of(category), Unit = StoredText.OfOptional(unit), Patient = StoredText.OfOptional(patient) });

    private static SettingsEntry Entry(SettingsRow row) => new(
        row.Number,
        new NewSettingsEntry
        {
            Scope = row.Scope == ScopeText(SettingsScope.Patient) ? SettingsScope.Patient : SettingsScope.UnitDefault,
            Category = StoredText.Back(row.Category),
            Unit = StoredText.BackOptional(row.Unit),
            Patient = StoredText.BackOptional(row.Patient),
            Name = StoredText.Back(row.Name),
            SettingsJson = StoredText.Back(row.SettingsJson),
            Why = StoredText.Back(row.Why),
            AcceptedBy = StoredText.Back(row.AcceptedBy),
            ValidUntil = row.ValidUntil is null ? null : DateTimeOffset.ParseExact(row.ValidUntil, "O", CultureInfo.InvariantCulture, DateTimeStyles.RoundtripKind),
            EvidenceJson = StoredText.BackOptional(row.EvidenceJson),
        },
        StoredText.BackOptional(row.PreviousSettingsJson),
        StoredTime.Back(row.WrittenAt),
        new Actor(StoredText.Back(row.WrittenBy)));

    private static string ScopeText(SettingsScope scope) => scope == SettingsScope.Patient ? "patient" : "unit default";

    private static string? OrNull(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();

    private sealed class SettingsRow
    {
        public long Number { get; init; }

        public required string Scope { get; init; }

        public required string Category { get; init; }

        public string? Unit { get; init; }

        public string? Patient { get; init; }

        public required string Name { get; init; }

        public required string SettingsJson { get; init; }

        public string? PreviousSettingsJson { get; init; }

        public required string Why { get; init; }

        public required string AcceptedBy { get; init; }

        public string? ValidUntil { get; init; }

        public string? EvidenceJson { get; init; }

        public required string WrittenAt { get; init; }

        public required string WrittenBy { get; init; }
    }
}
