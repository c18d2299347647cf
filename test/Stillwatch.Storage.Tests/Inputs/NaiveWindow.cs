using System.Numerics;
using Stillwatch.Signals;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;

namespace Stillwatch.Storage.Tests.Inputs;

/// <summary>The slow obvious twin of a window: looks at every sample, and at the definition.</summary>
internal static class NaiveWindow
{
    public static IEnumerable<(long Time, float Value)> Numbers(Channel channel)
    {
        for (int i = 0; i < channel.Times.Count; i++)
        {
            int sample = SameRecording.SampleOf(channel, i);
            if (sample == ValueColumn.Missing) continue;
            yield return (channel.Times.TimeAt(i).Milliseconds, (float)(channel.Counts is { } counts ? counts.Calibration.ValueOf(sample) : sample / 1_000_000.0));
        }
    }

    public static ChannelWindow Of(Channel channel, SampleTime from, SampleTime to, int columns)
    {
        long? entry = EntryLength(channel.Times, to - from, columns);
        var (least, greatest, rows) = (new float[columns], new float[columns], new int[columns]);
        Array.Fill(least, float.NaN);
        Array.Fill(greatest, float.NaN);
        foreach (var (time, value) in Numbers(channel))
        {
            // A number stands where its entry begins; one whose entry begins before the window, at its left edge.
            long start = entry is { } length ? channel.Times.First.Milliseconds + (time - channel.Times.First.Milliseconds) / length * length : time;
            long end = start + (entry ?? 1);
            if (end <= from.Milliseconds || start >= to.Milliseconds) continue;
            int column = (int)(new BigInteger(Math.Max(start, from.Milliseconds) - from.Milliseconds) * columns / (to.Milliseconds - from.Milliseconds));
            least[column] = rows[column] == 0 ? value : Math.Min(least[column], value);
            greatest[column] = rows[column] == 0 ? value : Math.Max(greatest[column], value);
            rows[column]++;
        }

        return new ChannelWindow(from, to, least, greatest, rows);
    }

    // Entries of 64, 64², … typical steps; the longest that is not longer than a column, and no level above the first of at most 64 entries.
    private static long? EntryLength(TimeAxis axis, Duration window, int columns)
    {
        if (axis.Count <= 64) return null;
        long span = (axis.Last - axis.First).Milliseconds;
        long step = Math.Max(1, Math.Min(axis.Period.Milliseconds, span / (axis.Count - 1)));
        long? chosen = null;
        for (long length = 64 * step; length <= window.Milliseconds / columns; length *= 64)
        {
            chosen = length;
            if (span / length < 64) break;
        }

        return chosen;
    }
}
