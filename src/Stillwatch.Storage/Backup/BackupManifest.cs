using System.Text.Json;
using System.Text.Json.Serialization;

namespace Stillwatch.Storage.Backup;

/// <summary>The last part of a backup: what is in it, and by which hashes each part is known.</summary>
internal sealed record BackupManifest(
    string Format, string Program, int StoreVersion, string MadeAt, string MadeBy, long AuditEntries, string AuditLastHash, IReadOnlyList<BackupPart> Parts, long DamagedRecordings = 0)
{
    public const string ThisFormat = "stillwatch.backup/1";

    public const string EntryName = "manifest.json";

    /// <summary>No honest manifest is longer.</summary>
    public const int MostBytes = 1 << 20;

    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web) { WriteIndented = true, RespectNullableAnnotations = true, RespectRequiredConstructorParameters = true };

    public byte[] ToBytes() => JsonSerializer.SerializeToUtf8Bytes(this, Options);

    /// <exception cref="JsonException">It is not a manifest.</exception>
    public static BackupManifest Of(ReadOnlySpan<byte> bytes) => JsonSerializer.Deserialize<BackupManifest>(bytes, Options) ?? throw new JsonException("there is nothing in it");
}

/// <summary>One table of a backup.</summary>
/// <param name="Table">Its name.</param>
/// <param name="Columns">In the order of each row's values.</param>
/// <param name="Rows">How many rows.</param>
/// <param name="Bytes">Length, unpacked.</param>
/// <param name="Sha256">Of the unpacked bytes, lower-case hexadecimal.</param>
internal sealed record BackupPart(string Table, IReadOnlyList<string> Columns, long Rows, long Bytes, string Sha256)
{
    public static string EntryNameOf(string table) => $"tables/{table}.ndjson";
}
