using System.Buffers;
using System.IO.Compression;
using System.Security.Cryptography;
using Stillwatch.Storage.Audit;
using Stillwatch.Storage.Sql;

namespace Stillwatch.Storage.Backup;

/// <summary>Writes a whole store into one archive, row by row, as it was at one moment.</summary>
internal sealed class BackupWriting(Database database, TimeProvider clock)
{
    /// <exception cref="StoreException">The file is there already, or cannot be written.</exception>
    public async Task<BackupSummary> WriteAsync(string file, Actor actor, CancellationToken cancellation)
    {
        string path = Path.GetFullPath(file), draft = path + ".part";
        bool isOurs = false;
        if (File.Exists(path)) throw new StoreException("a file of that name", "a name that is free", path, "an earlier backup; nothing was written over it");
        try
        {
            BackupManifest manifest;
            var options = new FileStreamOptions { Mode = FileMode.Create, Access = FileAccess.ReadWrite };
            if (!OperatingSystem.IsWindows()) options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite; // recordings are about patients
            string sha256;
            long bytes;
            var stream = new FileStream(draft, options);
            isOurs = true;
            await using (stream.ConfigureAwait(false))
            {
                manifest = await database.ReadAsync(session => WriteAsync(stream, actor, session), cancellation).ConfigureAwait(false);
                stream.Position = 0;
                sha256 = Convert.ToHexStringLower(await SHA256.HashDataAsync(stream, cancellation).ConfigureAwait(false));
                bytes = stream.Length;
                stream.Flush(flushToDisk: true);
            }

            File.Move(draft, path, overwrite: false);
            var summary = SummaryOf(path, bytes, sha256, manifest);
            await database.ChangeAsync(
                session => AuditChain.AddAsync(session, clock, actor, "store.backedup", _ => Path.GetFileName(path), new { sha256, bytes, auditEntries = manifest.AuditEntries, auditLastHash = manifest.AuditLastHash }),
                CancellationToken.None).ConfigureAwait(false); // it is there under its name, so the audit has to say so
            return summary;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new StoreException("a backup that cannot be written", "a folder with room that may be written", path, e.Message.TrimEnd('.'), e);
        }
        finally
        {
            // Another backup to the same name may be writing there.
            if (isOurs && File.Exists(draft)) File.Delete(draft);
        }
    }

    internal static BackupSummary SummaryOf(string path, long bytes, string sha256, BackupManifest manifest)
    {
        long Rows(string table) => manifest.Parts.Where(p => p.Table == table).Sum(p => p.Rows);
        return new BackupSummary(
            path, bytes, sha256, StoredTime.Back(manifest.MadeAt), Rows("recordings"), Rows("review_marks"), Rows("settings_history"), Rows("reports"), manifest.AuditEntries, manifest.AuditLastHash, manifest.DamagedRecordings);
    }

    private async Task<BackupManifest> WriteAsync(Stream to, Actor actor, Session session)
    {
        // A backup of an audit that is broken would carry the break along and hide where it came from.
        // What the disk did to one recording goes along and is said: all others have to be kept.
        var damaged = new HashSet<string>();
        var verdict = await AuditTrail.VerifyAsync(session, damaged).ConfigureAwait(false);
        if (!verdict.IsWhole) throw new StoreException($"an audit that does not fit: {verdict.Why}", "a whole one", database.Where, "a change from outside the program; copy the database by its own means and look into it before anything else");
        using var archive = new ZipArchive(to, ZipArchiveMode.Create, leaveOpen: true);
        var parts = new List<BackupPart>();
        var watch = new ChunkWatch(damaged);
        foreach (var table in StoreTable.All) parts.Add(await WriteTableAsync(archive, table, watch, session).ConfigureAwait(false));
        var manifest = new BackupManifest(
            BackupManifest.ThisFormat, Migrator.Program, Migrator.VersionOf(database), StoredTime.Of(clock.GetUtcNow()), actor.ToString() ?? "", verdict.Entries, verdict.LastHash, parts, damaged.Count);
        using var entry = archive.CreateEntry(BackupManifest.EntryName).Open();
        entry.Write(manifest.ToBytes());
        return manifest;
    }

    private static async Task<BackupPart> WriteTableAsync(ZipArchive archive, StoreTable table, ChunkWatch watch, Session session)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        var line = new ArrayBufferWriter<byte>();
        long rows = 0, bytes = 0;
        // Chunks are packed already; Base64 alone is what is left to take out again.
        using var entry = archive.CreateEntry(BackupPart.EntryNameOf(table.Name), CompressionLevel.Fastest).Open();
        var reader = await session.ReaderAsync(table.SelectSql).ConfigureAwait(false);
        await using (reader.ConfigureAwait(false))
        {
            while (await reader.ReadAsync(session.Cancellation).ConfigureAwait(false))
            {
                session.Cancellation.ThrowIfCancellationRequested();
                line.ResetWrittenCount();
                watch.Look(reader, table);
                RowText.Write(reader, table, line);
                hash.AppendData(line.WrittenSpan);
                entry.Write(line.WrittenSpan);
                rows++;
                bytes += line.WrittenCount;
            }
        }

        return new BackupPart(table.Name, [.. table.Columns.Select(c => c.Name)], rows, bytes, Convert.ToHexStringLower(hash.GetHashAndReset()));
    }
}
