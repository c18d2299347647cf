using Stillwatch.Time;

namespace Stillwatch.Formats.Edf.Writing;

/// <summary>
/// The even grid on which all rows of a channel lie, counted from the file's beginning; places without a row are filled with a code.
/// </summary>
/// <param name="Rate">Places in time.</param>
/// <param name="FirstPlace">Of the first row.</param>
/// <param name="Stride">Places from row to row on an even axis; 0: the axis is uneven and every row's place follows from its time.</param>
/// <param name="OriginMilliseconds">Where the file begins, on the recording's time line.</param>
internal sealed record ChannelGrid(SampleRate Rate, long FirstPlace, long Stride, long OriginMilliseconds)
{
    /// <summary>Places for a row at most.</summary>
    public const int MostPlacesForARow = 64;

    public bool IsEven => Stride > 0;

    /// <summary>The place of a row of an uneven axis.</summary>
    public long PlaceAt(long milliseconds) => (milliseconds - OriginMilliseconds) / Rate.Milliseconds;

    /// <summary>The coarsest grid.</summary>
    /// <returns>Null where an even axis lies so between the places that none of sensible size fits.</returns>
    public static ChannelGrid? Of(TimeAxis times, long originMilliseconds)
    {
        if (times.Count == 0) return new ChannelGrid(SampleRate.FromPeriod(times.Period), 0, 1, originMilliseconds);
        long delay = times.First.Milliseconds - originMilliseconds;
        return times.Rate is { } rate ? Even(rate, delay, originMilliseconds) : Uneven(times, delay, originMilliseconds);
    }

    private static ChannelGrid? Even(SampleRate rate, long delay, long origin)
    {
        // The first row lies delay · samples / milliseconds places in; what is left of a whole place makes the grid finer.
        var places = (Int128)delay * rate.Samples;
        long stride = (long)(rate.Milliseconds / GreatestCommonDivisor(places, rate.Milliseconds));
        if (stride > MostPlacesForARow) return null;
        return new ChannelGrid(SampleRate.Of(rate.Samples * stride, rate.Milliseconds), (long)(places * stride / rate.Milliseconds), stride, origin);
    }

    private static ChannelGrid Uneven(TimeAxis times, long delay, long origin)
    {
        long step = delay;
        long previous = times.First.Milliseconds;
        var chunk = new long[TimeAxis.ChunkLength];
        for (int c = 0; c < times.ChunkCount && step != 1; c++)
        {
            int length = times.CopyChunk(c, chunk);
            foreach (long time in chunk.AsSpan(0, length))
            {
                step = (long)GreatestCommonDivisor(time - previous, step);
                previous = time;
            }
        }

        return new ChannelGrid(SampleRate.Of(1, step), delay / step, 0, origin);
    }

    internal static Int128 GreatestCommonDivisor(Int128 a, Int128 b)
    {
        while (b != 0) (a, b) = (b, a % b);
        return a < 0 ? -a : a;
    }
}
