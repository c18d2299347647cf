using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Oximetry.Feed;

/// <summary>Rows of even times: given as they are, a chunk at a time.</summary>
internal static class EvenRows
{
    public static FeedSummary Run(Channel pulse, Channel? red, GridChoice choice, IFrameSink sink)
    {
        var pulseValues = new double[TimeAxis.ChunkLength];
        var redValues = red is null ? [] : new double[TimeAxis.ChunkLength];
        long samples = 0;
        int chunks = Math.Max(pulse.Times.ChunkCount, red?.Times.ChunkCount ?? 0);
        for (int chunk = 0; chunk < chunks; chunk++)
        {
            int length = ChannelChunks.CopyPair(pulse, red, chunk, pulseValues, redValues);
            sink.Take(pulseValues.AsSpan(0, length), red is null ? [] : redValues.AsSpan(0, length));
            samples += length;
        }

        return new FeedSummary(choice.Rate, choice.Start, samples, 0, FeedGrid.Even, 0, 0, null);
    }
}

/// <summary>The same chunk of one or two channels.</summary>
internal static class ChannelChunks
{
    /// <summary>The length of the longer; the other holds NaN after its end.</summary>
    public static int CopyPair(Channel pulse, Channel? red, int chunk, Span<double> pulseTo, Span<double> redTo)
    {
        int pulseLength = Copy(pulse, chunk, pulseTo);
        if (red is null) return pulseLength;
        int redLength = Copy(red, chunk, redTo);
        int length = Math.Max(pulseLength, redLength);
        pulseTo[pulseLength..length].Fill(double.NaN);
        redTo[redLength..length].Fill(double.NaN);
        return length;
    }

    private static int Copy(Channel channel, int chunk, Span<double> to) => chunk < channel.Times.ChunkCount ? channel.CopyValues(chunk, to) : 0;
}
