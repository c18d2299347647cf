using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Oximetry.Feed;

/// <summary>Rows that lie on an even grid but for rounding: each takes its place, and places without a row are gaps.</summary>
internal static class SnappedRows
{
    public static FeedSummary Run(Channel pulse, Channel? red, GridChoice choice, IFrameSink sink)
    {
        var times = PairedAxes.Longer(pulse, red);
        var milliseconds = new long[TimeAxis.ChunkLength];
        var pulseValues = new double[TimeAxis.ChunkLength];
        var redValues = red is null ? [] : new double[TimeAxis.ChunkLength];
        double step = choice.Rate.Milliseconds / (double)choice.Rate.Samples;
        long next = 0, missing = 0;
        for (int chunk = 0; chunk < times.ChunkCount; chunk++)
        {
            int length = times.CopyChunk(chunk, milliseconds);
            ChannelChunks.CopyPair(pulse, red, chunk, pulseValues, redValues);
            int from = 0;
            for (int i = 0; i < length; i++)
            {
                long place = (long)Math.Round((milliseconds[i] - choice.Start.Milliseconds - choice.OffsetMilliseconds) / step);
                if (place > next)
                {
                    Give(from, i);
                    from = i;
                    sink.TakeGap(place - next);
                    missing += place - next;
                }

                next = place + 1;
            }

            Give(from, length);
        }

        return new FeedSummary(choice.Rate, choice.Start, next, missing, FeedGrid.Snapped, choice.GreatestJitterSeconds, 0, null);

        void Give(int from, int to)
        {
            if (to > from) sink.Take(pulseValues.AsSpan(from, to - from), red is null ? [] : redValues.AsSpan(from, to - from));
        }
    }
}
