using System.Data.Common;
using Stillwatch.Storage.Samples;

namespace Stillwatch.Storage.Backup;

/// <summary>Looks at each chunk on its way into a backup: a disk that fails is to be noticed while earlier backups are still there.</summary>
/// <param name="damaged">Takes recordings with a chunk that is not what its checksum says.</param>
internal sealed class ChunkWatch(ISet<string> damaged)
{
    public void Look(DbDataReader row, StoreTable table)
    {
        string? owner = table.Name switch
        {
            "time_chunks" => "axis",
            "sample_chunks" => "channel",
            "annotation_chunks" => null,
            _ => "",
        };
        if (owner == "") return;
        long Whole(string column) => row.GetInt64(row.GetOrdinal(column));
        string recording = row.GetString(row.GetOrdinal("recording"));
        bool isSamples = table.Name == "sample_chunks";
        try
        {
            var chunk = new ChunkRow
            {
                Recording = recording,
                Owner = owner is null ? 0 : checked((int)Whole(owner)),
                Level = isSamples ? checked((int)Whole("level")) : 0,
                Chunk = checked((int)Whole("chunk")),
                RowCount = checked((int)Whole("row_count")),
                FirstMilliseconds = owner is null ? 0 : Whole("first_milliseconds"),
                LastMilliseconds = owner is null ? 0 : Whole("last_milliseconds"),
                Checksum = row.GetFieldValue<byte[]>(row.GetOrdinal("checksum")),
                Content = row.GetFieldValue<byte[]>(row.GetOrdinal("content")),
            };
            chunk.Check(!isSamples ? owner is null ? ChunkContent.Annotations : ChunkContent.Times : chunk.Level == 0 ? ChunkContent.Samples : ChunkContent.Entries);
        }
        catch (Exception e) when (e is InvalidDataException or OverflowException)
        {
            damaged.Add(recording);
        }
    }
}
