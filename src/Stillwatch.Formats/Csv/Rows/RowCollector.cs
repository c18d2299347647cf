using System.Runtime.InteropServices;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Csv.Rows;

/// <summary>
/// Gathers rows into columns in the order of their times. Rows that come in order go straight into the columns; those that
/// come late wait in plain arrays (eight bytes and four for each channel) and are merged at the end, the first row of a time kept.
/// </summary>
internal sealed class RowCollector(int channelCount)
{
    private readonly List<long> lateTimes = [];
    private readonly List<int>[] lateValues = NewLists(channelCount);
    private TimeAxis.Builder times = new();
    private ValueColumn.Builder[] values = NewBuilders(channelCount);
    private long origin;
    private bool isLate;

    /// <summary>Whether the row opened last came after a later one.</summary>
    public bool LastIsLate => isLate;

    public int Count => times.Count;

    /// <summary>Opens a row; its values follow by <see cref="Add"/>, one for each channel in order. False, and no row, where the last row had this very time.</summary>
    public bool TryOpen(long milliseconds)
    {
        if (times.Count == 0)
        {
            origin = milliseconds;
            times.Add(0);
            isLate = false;
            return true;
        }

        long time = milliseconds - origin;
        if (time == times.LastMilliseconds) return false;
        isLate = time < times.LastMilliseconds;
        if (isLate) lateTimes.Add(time);
        else times.Add(time);
        return true;
    }

    public void Add(int channel, int micro)
    {
        if (isLate) lateValues[channel].Add(micro);
        else values[channel].Add(micro);
    }

    /// <summary>All rows in order of time, the origin at the first of them.</summary>
    /// <param name="period">P where it is declared.</param>
    /// <param name="originMilliseconds">The time of the origin as it was given to <see cref="TryOpen"/>.</param>
    /// <param name="repeated">Called for each late row whose time an earlier row of the file had.</param>
    public (TimeAxis Times, ValueColumn[] Values) Build(Duration? period, out long originMilliseconds, Action<long> repeated)
    {
        if (lateTimes.Count > 0) Merge(repeated);
        originMilliseconds = origin;
        return (times.Build(period), Array.ConvertAll(values, v => v.Build()));
    }

    private void Merge(Action<long> repeated)
    {
        var order = new int[lateTimes.Count];
        for (int i = 0; i < order.Length; i++) order[i] = i;
        var late = CollectionsMarshal.AsSpan(lateTimes).ToArray();
        Array.Sort(order, (a, b) => late[a] != late[b] ? late[a].CompareTo(late[b]) : a.CompareTo(b)); // the row's place in the file keeps it stable

        var inOrderTimes = times.Build();
        var inOrderValues = Array.ConvertAll(values, v => v.Build());
        times = new TimeAxis.Builder();
        values = NewBuilders(channelCount);
        long first = Math.Min(0, late[order[0]]);
        var timeChunk = new long[TimeAxis.ChunkLength];
        var valueChunks = new int[channelCount][];
        for (int c = 0; c < channelCount; c++) valueChunks[c] = new int[TimeAxis.ChunkLength];
        int next = 0;
        for (int chunk = 0; chunk < inOrderTimes.ChunkCount; chunk++)
        {
            int length = inOrderTimes.CopyChunk(chunk, timeChunk);
            for (int c = 0; c < channelCount; c++) inOrderValues[c].CopyChunk(chunk, valueChunks[c]);
            for (int i = 0; i < length; i++)
            {
                while (next < order.Length && late[order[next]] < timeChunk[i]) TakeLate(order[next++], late, first, repeated);
                times.Add(timeChunk[i] - first);
                for (int c = 0; c < channelCount; c++) values[c].Add(valueChunks[c][i]);
            }
        }

        // A late row is never later than the last row in order; equal it can be, and then it is a repetition.
        while (next < order.Length) TakeLate(order[next++], late, first, repeated);
        origin += first;
    }

    private void TakeLate(int row, long[] late, long first, Action<long> repeated)
    {
        long time = late[row] - first;
        if (times.Count > 0 && time == times.LastMilliseconds)
        {
            repeated(origin + late[row]);
            return;
        }

        times.Add(time);
        for (int c = 0; c < channelCount; c++) values[c].Add(lateValues[c][row]);
    }

    private static List<int>[] NewLists(int count)
    {
        var lists = new List<int>[count];
        for (int i = 0; i < count; i++) lists[i] = [];
        return lists;
    }

    private static ValueColumn.Builder[] NewBuilders(int count)
    {
        var builders = new ValueColumn.Builder[count];
        for (int i = 0; i < count; i++) builders[i] = new ValueColumn.Builder();
        return builders;
    }
}
