namespace Stillwatch.Storage.Reports;

/// <summary>A report that was made and kept.</summary>
/// <param name="Kind">"recording", "decision", "shift summary".</param>
/// <param name="Title">Its heading.</param>
/// <param name="MediaType">"application/pdf", "text/html".</param>
/// <param name="Content">Its bytes.</param>
public sealed record NewReport(string Kind, string Title, string MediaType, byte[] Content);

public sealed record StoredReport(long Number, string Kind, string Title, string MediaType, string Sha256, long Bytes, DateTimeOffset MadeAt, Actor MadeBy);

/// <summary>Reports as they were handed over.</summary>
public interface IReportStore
{
    Task<StoredReport> AddAsync(NewReport report, Actor actor, CancellationToken cancellation = default);

    /// <summary>The newest first.</summary>
    Task<IReadOnlyList<StoredReport>> ListAsync(CancellationToken cancellation = default);

    /// <summary>Null: there is none of that number.</summary>
    Task<byte[]?> ContentAsync(long number, CancellationToken cancellation = default);
}
