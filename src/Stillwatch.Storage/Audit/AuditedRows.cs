using System.Data.Common;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Sql;

namespace Stillwatch.Storage.Audit;

/// <summary>
/// Whether what the audit speaks of still stands as its lines say. Each statement of Queries/audited (but removals, which says what left)
/// brings a line beside the row that was written with it; a column's name is the property of the line's details that says the same. What a
/// line does not say is not compared, so that lines of earlier programs, which said less, still fit.
/// </summary>
internal sealed class AuditedRows(Session session)
{
    private static readonly string[] Statements = ["imported", "described", "marks", "withdrawals", "looks", "settings", "reports"];

    private readonly Dictionary<string, long> removals = [];
    private readonly List<(string Id, long Line)> recordings = [];

    /// <summary>The first line whose row is gone or says something else, and what is wrong; null: all stand.</summary>
    public async Task<(long Line, string Why)?> FirstMisfitAsync()
    {
        foreach (var removal in await session.ReadAsync<Removal>("audited/removals").ConfigureAwait(false)) removals.Add(removal.Subject, removal.Line);
        (long Line, string Why)? first = null;
        foreach (string statement in Statements)
        {
            if (await MisfitAsync(statement).ConfigureAwait(false) is { } misfit && !(first?.Line <= misfit.Line)) first = misfit;
        }

        return first;
    }

    /// <summary>Of the recordings that were looked at, those whose facts, as they stand in several tables, are no longer what their digest is over.</summary>
    public async Task<IReadOnlyList<(string Id, long Line)>> DamagedAsync()
    {
        var damaged = new List<(string Id, long Line)>();
        foreach (var (id, line) in recordings)
        {
            bool isOne = RecordingId.TryParse(id, out var recording);
            var head = isOne ? await RecordingStore.HeadAsync(session, recording).ConfigureAwait(false) : null;
            if (head is null || !head.DigestOfFacts().AsSpan().SequenceEqual(head.Recording.Digest)) damaged.Add((id, line));
        }

        return damaged;
    }

    private async Task<(long Line, string Why)?> MisfitAsync(string statement)
    {
        var reader = await session.ReaderAsync(SqlText.Of("audited/" + statement)).ConfigureAwait(false);
        await using (reader.ConfigureAwait(false))
        {
            while (await reader.ReadAsync(session.Cancellation).ConfigureAwait(false))
            {
                session.Cancellation.ThrowIfCancellationRequested();
                long line = reader.GetInt64(0);
                if (MisfitOf(reader) is { } why) return (line, why);
                if (statement == "imported") recordings.Add((reader.GetString(3), line));
            }
        }

        return null;
    }

    private string? MisfitOf(DbDataReader row)
    {
        string subject = row.GetString(3);
        try
        {
            using var said = JsonDocument.Parse(StoredText.Back(row.GetString(4)));
            if (row.IsDBNull(5))
                return said.RootElement.TryGetProperty("recording", out var of) && removals.GetValueOrDefault(of.GetString() ?? "") > row.GetInt64(0) ? null : $"{subject} is gone";
            var wrong = Enumerable.Range(6, row.FieldCount - 6).Where(i => !Fits(said.RootElement, row, i)).Select(row.GetName).ToList();
            return wrong.Count == 0 ? null : $"{subject} is not what was written with that line ({string.Join(", ", wrong)})";
        }
        catch (Exception e) when (e is JsonException or FormatException or InvalidOperationException or InvalidCastException)
        {
            return $"{subject} cannot be compared with that line ({e.Message.TrimEnd('.')})";
        }
    }

    private static bool Fits(JsonElement details, DbDataReader row, int column)
    {
        string name = row.GetName(column);
        object? stored = row.IsDBNull(column) ? null : row.GetValue(column);
        switch (name)
        {
            case "at":
                return stored as string == row.GetString(1);
            case "by":
                return stored as string == row.GetString(2);
            case "content":
                (name, stored) = ("sha256", Convert.ToHexStringLower(SHA256.HashData((byte[])stored!)));
                break;
        }

        var said = details;
        foreach (string part in name.Split('.'))
        {
            if (!said.TryGetProperty(part, out said)) return true;
        }

        return stored switch
        {
            null => said.ValueKind == JsonValueKind.Null,
            byte[] bytes => said.GetString() == Convert.ToHexStringLower(bytes),
            string text when name == "ValidUntil" => said.ValueKind == JsonValueKind.String && said.GetDateTimeOffset().EqualsExact(DateTimeOffset.ParseExact(text, "O", CultureInfo.InvariantCulture)),
            string text when said.ValueKind == JsonValueKind.Number => decimal.TryParse(text, NumberStyles.Number, CultureInfo.InvariantCulture, out decimal number) && number == said.GetDecimal(),
            string text => said.GetString() == Whole(StoredText.Back(text)),
            _ => said.TryGetInt64(out long whole) && whole == Convert.ToInt64(stored, CultureInfo.InvariantCulture),
        };
    }

    // JSON has no half of a surrogate pair: there a sign stands for it.
    private static string Whole(string text) => Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(text));

    private sealed class Removal
    {
        public required string Subject { get; init; }

        public long Line { get; init; }
    }
}
