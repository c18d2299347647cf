using Stillwatch.Storage.Sql;

namespace Stillwatch.Storage.Audit;

internal sealed class AuditTrail(Database database, TimeProvider clock) : IAuditTrail
{
    public async Task<IReadOnlyList<AuditEntry>> LatestAsync(int atMost, CancellationToken cancellation = default)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(atMost);
        var rows = await database.ReadAsync(session => session.ReadAsync<AuditRow>("audit/latest", new { AtMost = atMost }), cancellation).ConfigureAwait(false);
        return database.Understood(rows, row => $"line {row.Number} of the audit", Entry);
    }

    public Task<AuditVerdict> VerifyAsync(CancellationToken cancellation = default) => database.ReadAsync(session => VerifyAsync(session), cancellation);

    public Task NoteAsync(string action, string subject, string detailJson, Actor actor, CancellationToken cancellation = default) =>
        database.ChangeAsync(session => AuditChain.AddAsync(session, clock, actor, action, _ => subject, detailJson), cancellation);

    /// <param name="session">Sees all of the store at one moment.</param>
    /// <param name="damaged">Takes recordings whose facts do not fit their digest, which then do not count; null: they count as lines that do not fit.</param>
    internal static async Task<AuditVerdict> VerifyAsync(Session session, ISet<string>? damaged = null)
    {
        long entries = 0;
        string previous = AuditChain.Beginning;
        await foreach (var row in session.EachAsync<AuditRow>("audit/all").WithCancellation(session.Cancellation).ConfigureAwait(false))
        {
            session.Cancellation.ThrowIfCancellationRequested();
            entries++;
            string? why = row.Number != entries ? $"line {entries} is missing; the next one is {row.Number}"
                : row.PreviousHash != previous ? $"line {row.Number} does not follow the line before it: that one was changed, or this one was put in its place"
                : row.Hash != AuditChain.HashOf(row) ? $"line {row.Number} was changed after it was written"
                : null;
            if (why is not null) return new AuditVerdict(entries, previous, Math.Min(entries, row.Number), why);
            previous = row.Hash;
        }

        var rows = new AuditedRows(session);
        var misfit = await rows.FirstMisfitAsync().ConfigureAwait(false);
        foreach (var (id, line) in await rows.DamagedAsync().ConfigureAwait(false))
        {
            if (damaged is not null) damaged.Add(id);
            else if (!(misfit?.Line <= line)) misfit = (line, $"what was read from the file of recording {id} was changed after it was written");
        }

        if (misfit is var (first, wrong)) return new AuditVerdict(entries, previous, first, wrong);

        // A chain cannot see that its own end was cut off; what was written together with those lines can.
        return await session.FirstAsync<string>("audit/unwitnessed").ConfigureAwait(false) is { } alone
            ? new AuditVerdict(entries, previous, entries + 1, $"no line speaks of {alone}: lines were cut off at the end, or it was put in from outside")
            : new AuditVerdict(entries, previous, null, null);
    }

    private static AuditEntry Entry(AuditRow row) => new(
        row.Number, StoredTime.Back(row.At), new Actor(StoredText.Back(row.ByActor)), StoredText.Back(row.Action), StoredText.Back(row.Subject),
        StoredText.Back(row.DetailJson), row.PreviousHash, row.Hash);
}
