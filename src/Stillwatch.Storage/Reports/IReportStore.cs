namespace Stillwatch.Storage.Reports;

/// <summary>A report that was made and kept.</summary>
/// <param name="Kind">"recording", "decision", "shift summary".</param>
/// <param name="Title">Its heading.</param>
/// <param name="MediaType">"application/pdf", "text/html".</param>
/// <param name="Content">Its bytes.</param>
public sealed record NewReport(string Kind, string Title, string MediaType, byte[] Content);

/// <summary>A kept report without its bytes.</summary>
/// <param name="Number">That of its line in the audit.</param>
/// <param name="Kind">As it was given.</param>
/// <param name="Title">As it was given.</param>
/// <param name="MediaType">As it was given.</param>
/// <param name="Sha256">Of its bytes, lower-case hexadecimal.</param>
/// <param name="Bytes">How many.</param>
/// <param name="MadeAt">When it was kept.</param>
/// <param name="MadeBy">By whom.</param>
public sealed record StoredReport(long Number, string Kind, string Title, string MediaType, string Sha256, long Bytes, DateTimeOffset MadeAt, Actor MadeBy);

/// <summary>Reports as they were handed over.</summary>
public interface IReportStore
{
    Task<StoredReport> AddAsync(NewReport report, Actor actor, CancellationToken cancellation = default);

    /// <summary>The newest first.</summary>
    Task<IReadOnlyList<StoredReport>> ListAsync(CancellationToken cancellation = default);

    /// <summary>Null: there is none of that number.</summary>
    /// <exception cref="StoreException">The bytes are not those that were handed over.</exception>
    Task<byte[]?> ContentAsync(long number, CancellationToken cancellation = default);
}
