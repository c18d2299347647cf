using Stillwatch.Formats.Wfdb.Header;
using Stillwatch.Formats.Wfdb.Samples;

namespace Stillwatch.Formats.Wfdb.Segments;

/// <summary>A stretch of the record with its files; an ordinary record is one.</summary>
/// <param name="Name">For messages.</param>
/// <param name="Header">Its own header.</param>
/// <param name="StartFrame">On the record's time line.</param>
/// <param name="FrameCount">Its length there.</param>
/// <param name="Files">What can be read of it.</param>
/// <param name="LineOf">Which of its signals plays each of the record's, by index; -1: none.</param>
internal sealed record PlacedSegment(string Name, WfdbHeader Header, long StartFrame, long FrameCount, IReadOnlyList<SignalFile> Files, int[] LineOf)
{
    /// <summary>The file and the line of a signal of the record; null where this segment has no samples of it.</summary>
    public (SignalFile File, SignalLine Line)? Find(int signalIndex)
    {
        int own = LineOf[signalIndex];
        if (own < 0) return null;
        // Files stand in the order of their lines, and the lines of one stand together.
        int low = 0, high = Files.Count;
        while (low < high)
        {
            int middle = (low + high) / 2;
            var file = Files[middle];
            int first = file.Signals[0].Index;
            if (own < first) high = middle;
            else if (own >= first + file.Signals.Count) low = middle + 1;
            else return (file, file.Signals[own - first]);
        }

        return null;
    }
}

/// <summary>A record's signals and its stretches in time, in order.</summary>
/// <param name="Signals">As the record presents them.</param>
/// <param name="Segments">Those with anything to read.</param>
/// <param name="FrameCount">The whole time line, gaps included.</param>
/// <param name="Words">What it is, for a page.</param>
internal sealed record RecordLayout(IReadOnlyList<SignalLine> Signals, IReadOnlyList<PlacedSegment> Segments, long FrameCount, string Words)
{
    public static RecordLayout Ordinary(WfdbHeader header, SignalFileFinder finder)
    {
        var files = finder.Find(header, header.FrameCount);
        long frames = files.Count == 0 ? 0 : files.Max(f => f.FrameCount);
        string formats = string.Join(", ", header.Signals.Select(s => s.Format).Where(f => f is not null).Distinct().Take(10));
        string words = $"WFDB, {header.Signals.Count} signal{(header.Signals.Count == 1 ? "" : "s")}{(formats.Length > 0 ? $", format {formats}" : "")}";
        return new RecordLayout(header.Signals, [new PlacedSegment(header.RecordName, header, 0, frames, files, [.. Enumerable.Range(0, header.Signals.Count)])], frames, words);
    }
}
