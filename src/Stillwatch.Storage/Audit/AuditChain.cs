using System.Security.Cryptography;
using System.Text;
using Stillwatch.Storage.Sql;

namespace Stillwatch.Storage.Audit;

/// <summary>
/// The hash of a line: SHA-256 over "stillwatch.audit/1" and the seven columns before it, in their order, each as its length in bytes, a
/// colon, its UTF-8 text as it stands in the table, and a line feed. With the lengths in front no two lines can be written alike.
/// </summary>
internal static class AuditChain
{
    /// <summary>What the first line holds as the hash of the line before.</summary>
    public static readonly string Beginning = new('0', 64);

    public static string HashOf(AuditRow row)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        string[] parts = ["stillwatch.audit/1", $"{row.Number}", row.At, row.ByActor, row.Action, row.Subject, row.DetailJson, row.PreviousHash];
        foreach (string part in parts)
        {
            byte[] text = Encoding.UTF8.GetBytes(part);
            hash.AppendData(Encoding.ASCII.GetBytes($"{text.Length}:"));
            hash.AppendData(text);
            hash.AppendData("\n"u8);
        }

        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    /// <summary>Adds the line of a change to the transaction of that change, and returns its number and time.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="clock">Says when.</param>
    /// <param name="actor">Who.</param>
    /// <param name="action">What was done.</param>
    /// <param name="subject">To what, by the number that the line will have.</param>
    /// <param name="detail">Becomes JSON.</param>
    public static async Task<(long Number, DateTimeOffset At)> AddAsync(Session session, TimeProvider clock, Actor actor, string action, Func<long, string> subject, object detail)
    {
        await session.Database.LockAuditAsync(session).ConfigureAwait(false);
        var last = await session.FirstAsync<LastLine>("audit/last").ConfigureAwait(false);
        long number = (last?.Number ?? 0) + 1;
        var at = StoredTime.Now(clock);
        var row = new AuditRow
        {
            Number = number,
            At = StoredTime.Of(at),
            ByActor = StoredText.Of(actor.ToString() ?? ""),
            Action = StoredText.Of(action),
            Subject = StoredText.Of(subject(number)),
            DetailJson = StoredText.Of(detail as string ?? System.Text.Json.JsonSerializer.Serialize(detail)),
            PreviousHash = last?.Hash ?? Beginning,
            Hash = "",
        };
        row.Hash = HashOf(row);
        await session.RunAsync("audit/add", row).ConfigureAwait(false);
        return (number, at);
    }

    private sealed class LastLine
    {
        public long Number { get; init; }

        public required string Hash { get; init; }
    }
}

/// <summary>A line as it stands in the table.</summary>
internal sealed class AuditRow
{
    public long Number { get; init; }

    public required string At { get; init; }

    public required string ByActor { get; init; }

    public required string Action { get; init; }

    public required string Subject { get; init; }

    public required string DetailJson { get; init; }

    public required string PreviousHash { get; init; }

    public required string Hash { get; set; }
}
