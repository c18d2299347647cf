using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Edf.Writing;

/// <summary>How the file is cut into data records: their length, the places of each signal in one, and which of them are written.</summary>
/// <remarks>A record without a row of any channel is left out; the first, at the file's beginning, never is.</remarks>
internal sealed class RecordPlan
{
    /// <summary>As EDF recommends (Kemp et al. 1992).</summary>
    public const int RecommendedBytes = 61_440;

    private const int MostBytes = 8_000_000;
    private const long MostMilliseconds = 1_000_000_000;
    private const long MostPlaces = 100_000_000;
    private const long CommonMilliseconds = 1000;
    private const long LongestMilliseconds = 60_000;
    private const long ManyRecords = 600;

    // The parts of a minute.
    private static readonly int[] LongerBy = [60, 30, 20, 15, 12, 10, 6, 5, 4, 3, 2];

    private readonly List<(long First, long Last)> ranges;

    private RecordPlan(long milliseconds, int[] places, List<(long First, long Last)> ranges)
    {
        Milliseconds = milliseconds;
        PlacesOf = places;
        this.ranges = ranges;
        foreach (var (first, last) in ranges) Count += last - first + 1;
    }

    /// <summary>Length of a data record.</summary>
    public long Milliseconds { get; }

    /// <summary>Samples of each channel in a record.</summary>
    public IReadOnlyList<int> PlacesOf { get; }

    /// <summary>Records written.</summary>
    public long Count { get; }

    /// <summary>The number of the last record on the time line.</summary>
    public long LastNumber => ranges[^1].Last;

    /// <summary>Whether they follow each other without a gap.</summary>
    public bool IsContinuous => ranges.Count == 1;

    /// <summary>The records written, by their number on the time line, from 0 at the file's beginning.</summary>
    public IEnumerable<long> Numbers()
    {
        foreach (var (first, last) in ranges)
        {
            for (long number = first; number <= last; number++) yield return number;
        }
    }

    /// <exception cref="UnwritableRecordingException">No record of sensible size, or far more places than rows.</exception>
    public static RecordPlan Of(IReadOnlyList<Channel> channels, IReadOnlyList<ChannelGrid> grids, int bytesOfSample)
    {
        long milliseconds = LengthOf(grids, bytesOfSample);
        var plan = OfLength(milliseconds, channels, grids);
        long signalBytes = plan.PlacesOf.Sum(p => (long)p * bytesOfSample);
        // Notes take as much room in every record, so slow signals would be a small part of their own file in records of a second.
        foreach (int multiple in plan.Count < ManyRecords ? [] : LongerBy)
        {
            if (milliseconds < CommonMilliseconds || milliseconds * multiple > LongestMilliseconds || signalBytes * multiple > RecommendedBytes / 2) continue;
            // Only where the rows fill the longer records as well: no place is added that would have to be marked as empty.
            if (plan.IsContinuous && plan.Count % multiple == 0) return OfLength(milliseconds * multiple, channels, grids);
        }

        return plan;
    }

    private static RecordPlan OfLength(long milliseconds, IReadOnlyList<Channel> channels, IReadOnlyList<ChannelGrid> grids)
    {
        var places = new int[grids.Count];
        for (int c = 0; c < places.Length; c++) places[c] = (int)PlacesIn(milliseconds, grids[c].Rate);
        List<(long First, long Last)> all = [(0, 0)];
        for (int c = 0; c < places.Length; c++)
        {
            var own = RangesOf(channels[c].Times, grids[c], places[c]);
            RefuseEmptyPlaces(channels[c], own, places[c], grids[c]);
            all.AddRange(own);
        }

        return new RecordPlan(milliseconds, places, Joined(all));
    }

    private static long PlacesIn(long milliseconds, SampleRate rate) => milliseconds / rate.Milliseconds * rate.Samples;

    // The multiple of what all grids need that comes nearest to a second from below, as far as the size recommended allows it.
    private static long LengthOf(IReadOnlyList<ChannelGrid> grids, int bytesOfSample)
    {
        Int128 needed = 1;
        Int128 bytes = 0;
        foreach (var grid in grids)
        {
            needed = needed / ChannelGrid.GreatestCommonDivisor(needed, grid.Rate.Milliseconds) * grid.Rate.Milliseconds;
            if (needed > MostMilliseconds) throw NoLength(grids, "no length below 12 days");
        }

        foreach (var grid in grids) bytes += needed / grid.Rate.Milliseconds * grid.Rate.Samples * bytesOfSample;
        if (bytes > MostBytes) throw NoLength(grids, $"none below {bytes} bytes");
        long most = Math.Max(1, (long)(CommonMilliseconds / needed));
        if (bytes > 0) most = Math.Clamp((long)(RecommendedBytes / bytes), 1, most);
        for (long multiple = most; multiple >= 1; multiple--)
        {
            if (CommonMilliseconds % ((long)needed * multiple) == 0) return (long)needed * multiple;
        }

        // Longer than a second or no part of one; some multiple has a text of eight characters.
        for (long multiple = most; multiple <= most + 1000; multiple++)
        {
            if (bytes * multiple <= MostBytes && HeaderNumber.TextOf((long)needed * multiple / 1000m) is not null) return (long)needed * multiple;
        }

        throw NoLength(grids, "none that eight characters can state");
    }

    private static UnwritableRecordingException NoLength(IReadOnlyList<ChannelGrid> grids, string found) => new(
        $"{found} in which the {string.Join(", ", grids.Select(g => g.Rate.ToString()).Distinct().Take(8))} all give whole samples", "a common length of data records", "sampling rates",
        "separated text, Parquet or JSON, where every row has its own time; or fewer channels");

    private static List<(long First, long Last)> RangesOf(TimeAxis times, ChannelGrid grid, int places)
    {
        var ranges = new List<(long First, long Last)>();
        if (times.Count == 0) return ranges;
        if (grid.IsEven)
        {
            if (grid.Stride <= places)
            {
                ranges.Add((grid.FirstPlace / places, (grid.FirstPlace + (times.Count - 1L) * grid.Stride) / places));
                return ranges;
            }

            for (int row = 0; row < times.Count; row++) Extend(ranges, (grid.FirstPlace + row * grid.Stride) / places);
            return ranges;
        }

        var chunk = new long[TimeAxis.ChunkLength];
        for (int c = 0; c < times.ChunkCount; c++)
        {
            int length = times.CopyChunk(c, chunk);
            foreach (long time in chunk.AsSpan(0, length)) Extend(ranges, grid.PlaceAt(time) / places);
        }

        return ranges;
    }

    private static void Extend(List<(long First, long Last)> ranges, long number)
    {
        if (ranges.Count == 0 || number > ranges[^1].Last + 1) ranges.Add((number, number));
        else ranges[^1] = (ranges[^1].First, number);
    }

    private static List<(long First, long Last)> Joined(List<(long First, long Last)> all)
    {
        all.Sort();
        var joined = new List<(long First, long Last)>();
        foreach (var range in all)
        {
            if (joined.Count > 0 && range.First <= joined[^1].Last + 1) joined[^1] = (joined[^1].First, Math.Max(joined[^1].Last, range.Last));
            else joined.Add(range);
        }

        return joined;
    }

    private static void RefuseEmptyPlaces(Channel channel, List<(long First, long Last)> own, int places, ChannelGrid grid)
    {
        if (grid.IsEven) return;
        Int128 taken = 0;
        foreach (var (first, last) in own) taken += (Int128)(last - first + 1) * places;
        if (taken <= (Int128)ChannelGrid.MostPlacesForARow * channel.Times.Count && taken <= MostPlaces) return;
        throw TooUneven(channel, $"{channel.Times.Count} rows on a grid of {grid.Rate.Milliseconds} ms, {taken} places");
    }

    /// <summary>Rows that would need far more samples than there are rows.</summary>
    public static UnwritableRecordingException TooUneven(Channel channel, string found) => new(
        found, $"rows on an even grid of at most {ChannelGrid.MostPlacesForARow} places a row", $"channel {IssueLog.Show(channel.Label)}",
        "separated text, Parquet or JSON, where every row has its own time");
}
