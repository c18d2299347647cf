using System.Runtime.InteropServices;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Csv.Rows;

/// <summary>
/// Gathers rows into columns in the order of their times. Rows that come in order go straight into the columns; those that
/// come late wait in plain arrays (eight bytes, and eight for each channel) and are merged at the end, the first row of a time kept.
/// </summary>
internal sealed class RowCollector(int channelCount)
{
    private readonly List<long> lateTimes = [];
    private readonly List<long>[] lateValues = NewLists(channelCount);
    private TimeAxis.Builder times = new();
    private TableColumn[] values = NewColumns(channelCount);
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

    /// <param name="channel">0-based.</param>
    /// <param name="micro">Millionths, or <see cref="TableColumn.Missing"/>.</param>
    public void Add(int channel, long micro)
    {
        if (isLate) lateValues[channel].Add(micro);
        else values[channel].Add(micro);
    }

    /// <summary>All rows in order of time, the origin at the first of them.</summary>
    /// <param name="period">P where it is declared.</param>
    /// <param name="originMilliseconds">The time of the origin as it was given to <see cref="TryOpen"/>.</param>
    /// <param name="repeated">Called for each late row whose time an earlier row of the file had.</param>
    public (TimeAxis Times, TableColumn[] Values) Build(Duration? period, out long originMilliseconds, Action<long> repeated)
    {
        if (lateTimes.Count > 0) Merge(repeated);
        originMilliseconds = origin;
        return (times.Build(period), values);
    }

    private void Merge(Action<long> repeated)
    {
        var order = new int[lateTimes.Count];
        for (int i = 0; i < order.Length; i++) order[i] = i;
        var late = CollectionsMarshal.AsSpan(lateTimes).ToArray();
        Array.Sort(order, (a, b) => late[a] != late[b] ? late[a].CompareTo(late[b]) : a.CompareTo(b)); // the row's place in the file keeps it stable

        var inOrderTimes = times.Build();
        var inOrderValues = values;
        foreach (var column in inOrderValues) column.Freeze();
        times = new TimeAxis.Builder();
        values = NewColumns(channelCount);
        long first = Math.Min(0, late[order[0]]);
        var timeChunk = new long[TimeAxis.ChunkLength];
        var valueChunks = new long[channelCount][];
        for (int c = 0; c < channelCount; c++) valueChunks[c] = new long[TimeAxis.ChunkLength];
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

    private static List<long>[] NewLists(int count)
    {
        var lists = new List<long>[count];
        for (int i = 0; i < count; i++) lists[i] = [];
        return lists;
    }

    private static TableColumn[] NewColumns(int count)
    {
        var columns = new TableColumn[count];
        for (int i = 0; i < count; i++) columns[i] = new TableColumn();
        return columns;
    }
}
