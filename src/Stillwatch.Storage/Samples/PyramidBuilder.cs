using Stillwatch.Signals;

namespace Stillwatch.Storage.Samples;

/// <summary>Builds all levels above a channel's samples as those go by, in memory that does not grow with them.</summary>
internal sealed class PyramidBuilder
{
    private readonly long first;
    private readonly long width;
    private readonly Level[] levels;
    private readonly List<PyramidChunk> finished = [];
    private long binEnd = long.MinValue; // of the open entry of level 1

    public PyramidBuilder(PyramidShape shape, long firstMilliseconds)
    {
        first = firstMilliseconds;
        width = shape.EntryMilliseconds;
        levels = [.. Enumerable.Range(1, shape.Levels).Select(number => new Level(number))];
    }

    /// <summary>Chunks that became whole since the last call.</summary>
    public IReadOnlyList<PyramidChunk> TakeFinished()
    {
        if (finished.Count == 0) return [];
        var taken = finished.ToArray();
        finished.Clear();
        return taken;
    }

    /// <param name="milliseconds">Rising, and after all that were added before.</param>
    /// <param name="samples">One for each.</param>
    public void Add(ReadOnlySpan<long> milliseconds, ReadOnlySpan<int> samples)
    {
        if (levels.Length == 0) return;
        ref var open = ref levels[0].Open;
        for (int i = 0; i < samples.Length; i++)
        {
            int sample = samples[i];
            if (sample == ValueColumn.Missing) continue;
            if (milliseconds[i] >= binEnd)
            {
                Close(0);
                long bin = (milliseconds[i] - first) / width;
                binEnd = first + (bin + 1) * width;
                open = new PyramidEntry(bin, sample, sample, 1);
            }
            else
            {
                open = new PyramidEntry(open.Bin, Math.Min(open.Least, sample), Math.Max(open.Greatest, sample), open.Rows + 1);
            }
        }
    }

    /// <summary>After the last sample: the chunks that are left.</summary>
    public IReadOnlyList<PyramidChunk> Finish()
    {
        for (int i = 0; i < levels.Length; i++)
        {
            Close(i);
            Flush(levels[i]);
        }

        return TakeFinished();
    }

    // An entry that is over joins its level's list and the open entry of the level above.
    private void Close(int index)
    {
        var level = levels[index];
        var entry = level.Open;
        if (entry.Rows == 0) return;
        level.Open = default;
        level.Pending.Add(entry);
        if (level.Pending.Count == PyramidCodec.MostEntries) Flush(level);
        if (index + 1 == levels.Length) return;
        var above = levels[index + 1];
        long bin = entry.Bin / PyramidShape.Factor;
        if (above.Open.Rows > 0 && above.Open.Bin != bin) Close(index + 1);
        above.Open = above.Open.Rows == 0
            ? entry with { Bin = bin }
            : new PyramidEntry(bin, Math.Min(above.Open.Least, entry.Least), Math.Max(above.Open.Greatest, entry.Greatest), above.Open.Rows + entry.Rows);
    }

    private void Flush(Level level)
    {
        if (level.Pending.Count == 0) return;
        finished.Add(new PyramidChunk(level.Number, level.Chunks++, level.Pending.ToArray()));
        level.Pending.Clear();
    }

    private sealed class Level(int number)
    {
        public readonly List<PyramidEntry> Pending = [];
        public PyramidEntry Open;

        public int Number => number;

        public int Chunks { get; set; }
    }
}
