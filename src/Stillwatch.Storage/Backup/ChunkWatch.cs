using System.Data.Common;
using Stillwatch.Storage.Samples;

namespace Stillwatch.Storage.Backup;

/// <summary>Looks at each chunk on its way into a backup: a disk that fails is to be noticed while earlier backups are still there.</summary>
/// <param name="damaged">Takes recordings with a chunk that is not what its checksum says.</param>
internal sealed class ChunkWatch(ISet<string> damaged)
{
    // Tables of chunks, and whose a chunk is within its recording; null: the recording's own.
    private static readonly Dictionary<string, string?> Owners = new() { ["time_chunks"] = "axis", ["sample_chunks"] = "channel", ["annotation_chunks"] = null };

    public void Look(DbDataReader row, StoreTable table)
    {
        if (!Owners.TryGetValue(table.Name, out string? owner)) return;
        long Whole(string? column) => table.Columns.Any(c => c.Name == column) ? row.GetInt64(row.GetOrdinal(column!)) : 0;
        string recording = row.GetString(row.GetOrdinal("recording"));
        try
        {
            var chunk = new ChunkRow
            {
                Recording = recording,
                Owner = checked((int)Whole(owner)),
                Level = checked((int)Whole("level")),
                Chunk = checked((int)Whole("chunk")),
                RowCount = checked((int)Whole("row_count")),
                FirstMilliseconds = Whole("first_milliseconds"),
                LastMilliseconds = Whole("last_milliseconds"),
                Checksum = row.GetFieldValue<byte[]>(row.GetOrdinal("checksum")),
                Content = row.GetFieldValue<byte[]>(row.GetOrdinal("content")),
            };
            chunk.Check((owner, chunk.Level) switch
            {
                ("channel", 0) => ChunkContent.Samples,
                ("channel", _) => ChunkContent.Entries,
                ("axis", _) => ChunkContent.Times,
                _ => ChunkContent.Annotations,
            });
        }
        catch (Exception e) when (e is InvalidDataException or OverflowException)
        {
            damaged.Add(recording);
        }
    }
}
