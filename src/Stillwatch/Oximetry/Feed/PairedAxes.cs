using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Oximetry.Feed;

/// <summary>Whether two channels' samples belong together one by one. Lengths may differ: the shorter one has no numbers after its end.</summary>
internal static class PairedAxes
{
    /// <exception cref="FeedRefusedException">They start at different times, run at different rates, or their uneven times differ.</exception>
    public static void Check(Channel pulse, Channel red)
    {
        var (one, other) = (pulse.Times, red.Times);
        if (ReferenceEquals(one, other)) return;
        if (other.Count == 0) throw new FeedRefusedException($"channel '{red.Label}'", "no rows", "samples of red light", "the channel was listed but never recorded");
        if (one.Count == 0) return; // refused where the grid is chosen
        string where = $"channels '{pulse.Label}' and '{red.Label}'";
        if (one.First != other.First)
            throw new FeedRefusedException(where, $"first samples at {one.First} and {other.First}", "both to begin together", "they come from different devices, or one was cut");
        if (one.Rate != other.Rate)
        {
            throw new FeedRefusedException(
                where, $"rates of {Words(one)} and {Words(other)}", "samples of red and infrared light taken in turn, at one rate", "one of them is a trend or a processed copy");
        }

        if (one.Rate is null) CheckTimes(where, one, other);
    }

    /// <summary>The times of whichever channel has more rows.</summary>
    public static TimeAxis Longer(Channel pulse, Channel? red) => red is not null && red.Times.Count > pulse.Times.Count ? red.Times : pulse.Times;

    private static string Words(TimeAxis axis) => axis.Rate is { } rate ? rate.ToString() : $"about one every {axis.Period}, uneven";

    private static void CheckTimes(string where, TimeAxis one, TimeAxis other)
    {
        var (a, b) = (new long[TimeAxis.ChunkLength], new long[TimeAxis.ChunkLength]);
        for (int chunk = 0; chunk < Math.Min(one.ChunkCount, other.ChunkCount); chunk++)
        {
            int length = Math.Min(one.CopyChunk(chunk, a), other.CopyChunk(chunk, b));
            int same = a.AsSpan(0, length).CommonPrefixLength(b.AsSpan(0, length));
            if (same == length) continue;
            throw new FeedRefusedException(
                where, $"row {(long)chunk * TimeAxis.ChunkLength + same + 1} at {new SampleTime(a[same])} and {new SampleTime(b[same])}", "the same times in both", "they come from different devices");
        }
    }
}
