using System.Data;
using System.Data.Common;
using System.IO.Compression;
using System.Security.Cryptography;
using System.Text.Json;
using Stillwatch.Storage.Audit;
using Stillwatch.Storage.Sql;

namespace Stillwatch.Storage.Backup;

/// <summary>Puts a backup into an empty store of either kind: all of it, checked, or nothing.</summary>
internal sealed class BackupReading(Database database, TimeProvider clock)
{
    // The largest thing that is stored in one row, as Base64, with room for the rest of its line.
    private const int MostLineBytes = StoredContent.MostBytes / 3 * 4 + (1 << 20);

    /// <exception cref="StoreException">The store is not empty, the file is no backup, it was damaged or changed, or a newer version wrote it.</exception>
    public async Task<BackupSummary> RestoreAsync(string file, Actor actor, CancellationToken cancellation)
    {
        string path = Path.GetFullPath(file);
        try
        {
            var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read);
            await using (stream.ConfigureAwait(false))
            {
                string sha256 = Convert.ToHexStringLower(await SHA256.HashDataAsync(stream, cancellation).ConfigureAwait(false));
                stream.Position = 0;
                using var archive = new ZipArchive(stream, ZipArchiveMode.Read, leaveOpen: true);
                var manifest = ManifestOf(archive, path);
                return await database.ChangeAsync(
                    async session =>
                    {
                        var tables = await TablesOfItsVersionAsync(session, manifest).ConfigureAwait(false);
                        await database.LockAuditAsync(session).ConfigureAwait(false);
                        await RequireEmptyAsync(session, tables).ConfigureAwait(false);
                        foreach (var (part, table) in manifest.Parts.Zip(tables)) await FillAsync(archive, part, table, session).ConfigureAwait(false);
                        await Migrator.MigrateAsync(session, clock, Migrator.VersionOf(database)).ConfigureAwait(false);
                        long damaged = await CheckAuditAsync(session, manifest, path).ConfigureAwait(false);
                        var summary = BackupWriting.SummaryOf(path, stream.Length, sha256, manifest);
                        summary = summary with { DamagedRecordings = Math.Max(damaged, summary.DamagedRecordings) };
                        await AuditChain.AddAsync(session, clock, actor, "store.restored", _ => Path.GetFileName(path), new { sha256, madeAt = manifest.MadeAt, auditLastHash = manifest.AuditLastHash }).ConfigureAwait(false);
                        return summary;
                    },
                    cancellation).ConfigureAwait(false);
            }
        }
        catch (Exception e) when (e is InvalidDataException or JsonException or FormatException or KeyNotFoundException)
        {
            throw new StoreException($"a backup that does not hold together ({e.Message.TrimEnd('.')})", "an archive as the backup command wrote it", path, "it was cut short while it was copied, or changed; nothing was restored", e);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new StoreException("a file that cannot be read", "a backup", path, e.Message.TrimEnd('.'), e);
        }
    }

    // The tables as they were when the backup was made; what has come since, migrations make of what was restored, as they do of a store of that version.
    private async Task<IReadOnlyList<StoreTable>> TablesOfItsVersionAsync(Session session, BackupManifest manifest)
    {
        int version = await Migrator.MigrateAsync(session, clock, manifest.StoreVersion).ConfigureAwait(false);
        if (version != manifest.StoreVersion)
        {
            throw new StoreException(
                $"a store of version {version} for a backup of version {manifest.StoreVersion}", "a place where no store has been", database.Where,
                "this Stillwatch, which is newer than the backup, made the store already; name a new folder or database");
        }

        var tables = new List<StoreTable>();
        foreach (var known in StoreTable.All)
        {
            var columns = await database.ColumnsAsync(session, known.Name).ConfigureAwait(false);
            if (columns.Count == 0) continue; // came later
            if (tables.Count >= manifest.Parts.Count || manifest.Parts[tables.Count] is not { } part || part.Table != known.Name) throw new InvalidDataException("it holds other tables");
            if (!part.Columns.Order(StringComparer.Ordinal).SequenceEqual(columns.Select(c => c.Name).Order(StringComparer.Ordinal))) throw new InvalidDataException($"{part.Table} has other columns");
            tables.Add(known with { Columns = [.. part.Columns.Select(name => columns.Single(c => c.Name == name))] });
        }

        return tables.Count == manifest.Parts.Count ? tables : throw new InvalidDataException("it holds other tables");
    }

    private BackupManifest ManifestOf(ZipArchive archive, string path)
    {
        var entry = archive.GetEntry(BackupManifest.EntryName) ?? throw new InvalidDataException("it has no manifest");
        using var stream = entry.Open();
        byte[] bytes = new byte[BackupManifest.MostBytes];
        int length = stream.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false);
        if (length == bytes.Length) throw new InvalidDataException("its manifest has no end");
        var manifest = BackupManifest.Of(bytes.AsSpan(0, length));
        int known = Migrator.VersionOf(database);
        if (manifest.Format != BackupManifest.ThisFormat || manifest.StoreVersion > known)
        {
            throw new StoreException(
                $"a backup in {manifest.Format} of store version {manifest.StoreVersion}, written by Stillwatch {manifest.Program}", $"{BackupManifest.ThisFormat} of at most store version {known}", path,
                "a newer Stillwatch made it; restore it with that one");
        }

        return manifest.StoreVersion > 0 ? manifest : throw new InvalidDataException("its manifest names no version of the store");
    }

    private async Task RequireEmptyAsync(Session session, IReadOnlyList<StoreTable> tables)
    {
        foreach (var table in tables)
        {
            if (await session.CountAsync(table.Name).ConfigureAwait(false) > 0)
                throw new StoreException($"a store that holds something already ({table.Name})", "an empty one", database.Where, "a store in use; a backup is never mixed into one, so name a new file or database");
        }
    }

    private static async Task FillAsync(ZipArchive archive, BackupPart part, StoreTable table, Session session)
    {
        var entry = archive.GetEntry(BackupPart.EntryNameOf(part.Table)) ?? throw new InvalidDataException($"{part.Table} is missing");
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        using var insert = session.Prepared(table.InsertSql);
        foreach (var column in table.Columns) insert.Parameters.Add(Parameter(insert, column));
        long rows = 0, bytes = 0;
        using var stream = entry.Open();
        var lines = new LineReading(stream, MostLineBytes);
        while (await lines.NextAsync(session.Cancellation).ConfigureAwait(false) is { } line)
        {
            hash.AppendData(line.Span);
            hash.AppendData("\n"u8);
            bytes += line.Length + 1;
            if (++rows > part.Rows) throw new InvalidDataException($"{part.Table} holds more rows than the manifest says");
            if (bytes > part.Bytes) throw new InvalidDataException($"{part.Table} holds more than the manifest says");
            RowText.Read(line.Span, table, insert.Parameters);
            await insert.ExecuteNonQueryAsync(session.Cancellation).ConfigureAwait(false);
        }

        if (rows != part.Rows || bytes != part.Bytes || Convert.ToHexStringLower(hash.GetHashAndReset()) != part.Sha256)
            throw new InvalidDataException($"{part.Table} is not what the manifest says");
    }

    private static DbParameter Parameter(DbCommand command, StoreColumn column)
    {
        var parameter = command.CreateParameter();
        parameter.ParameterName = "@" + column.Name;
        parameter.DbType = column.Type switch
        {
            ColumnType.Text => DbType.String,
            ColumnType.Whole => DbType.Int64,
            ColumnType.Truth => DbType.Boolean,
            _ => DbType.Binary,
        };
        return parameter;
    }

    private static async Task<long> CheckAuditAsync(Session session, BackupManifest manifest, string path)
    {
        var damaged = new HashSet<string>();
        var verdict = await AuditTrail.VerifyAsync(session, damaged).ConfigureAwait(false);
        string? why = verdict.Why ?? (verdict.Entries != manifest.AuditEntries || verdict.LastHash != manifest.AuditLastHash ? "its end is not the one that the manifest names" : null);
        if (why is not null) throw new StoreException($"a backup whose audit does not fit: {why}", "the whole audit", path, "the archive was changed by hand; nothing was restored");
        return damaged.Count;
    }
}
