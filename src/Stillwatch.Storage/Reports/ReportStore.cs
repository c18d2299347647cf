using System.Security.Cryptography;
using Stillwatch.Storage.Audit;
using Stillwatch.Storage.Sql;

namespace Stillwatch.Storage.Reports;

internal sealed class ReportStore(Database database, TimeProvider clock) : IReportStore
{
    public Task<StoredReport> AddAsync(NewReport report, Actor actor, CancellationToken cancellation = default)
    {
        StoredContent.RequireRoom(report.Content, "a report", database.Where);
        string sha256 = Convert.ToHexStringLower(SHA256.HashData(report.Content));
        return database.ChangeAsync(
            async session =>
            {
                var detail = new { kind = report.Kind, title = report.Title, mediaType = report.MediaType, sha256, bytes = report.Content.Length };
                var (number, at) = await AuditChain.AddAsync(session, clock, actor, "report.kept", n => $"report {n}", detail).ConfigureAwait(false);
                await session.RunAsync("reports/add", new ReportRow
                {
                    Number = number,
                    Kind = StoredText.Of(report.Kind),
                    Title = StoredText.Of(report.Title),
                    MediaType = StoredText.Of(report.MediaType),
                    Sha256 = sha256,
                    MadeAt = StoredTime.Of(at),
                    MadeBy = StoredText.Of(actor.ToString() ?? ""),
                    Content = report.Content,
                }).ConfigureAwait(false);
                return new StoredReport(number, report.Kind, report.Title, report.MediaType, sha256, report.Content.Length, at, actor);
            },
            cancellation);
    }

    public async Task<IReadOnlyList<StoredReport>> ListAsync(CancellationToken cancellation = default)
    {
        var rows = await database.ReadAsync(session => session.ReadAsync<ReportRow>("reports/list"), cancellation).ConfigureAwait(false);
        return database.Understood(rows, row => $"report {row.Number}", row => new StoredReport(
            row.Number, StoredText.Back(row.Kind), StoredText.Back(row.Title), StoredText.Back(row.MediaType), row.Sha256, row.ByteCount, StoredTime.Back(row.MadeAt), new Actor(StoredText.Back(row.MadeBy))));
    }

    public async Task<byte[]?> ContentAsync(long number, CancellationToken cancellation = default)
    {
        var row = await database.ReadAsync(session => session.FirstAsync<ReportRow>("reports/content", new { Number = number }), cancellation).ConfigureAwait(false);
        if (row is null) return null;
        if (Convert.ToHexStringLower(SHA256.HashData(row.Content)) == row.Sha256) return row.Content;
        throw new StoreException("a report that is not what its checksum says", "the bytes that were handed over", $"{database.Where}, report {number}", "the disk, or a change from outside the program; restore a backup into a new store");
    }

    private sealed class ReportRow
    {
        public long Number { get; init; }

        public string Kind { get; init; } = "";

        public string Title { get; init; } = "";

        public string MediaType { get; init; } = "";

        public string Sha256 { get; init; } = "";

        public string MadeAt { get; init; } = "";

        public string MadeBy { get; init; } = "";

        public long ByteCount { get; init; }

        public byte[] Content { get; init; } = [];
    }
}
